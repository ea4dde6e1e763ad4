"""Baylore's knowledge engine: trade knowledge and the arithmetic of a shop's fault memory.

from baylore_kb import Complaint, Snapshot, advise
answer = advise(Complaint("one click, no crank"), Snapshot.build([]))
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from baylore_kb.advice import advise
    from baylore_kb.errors import BayloreError
    from baylore_kb.index import Snapshot
    from baylore_kb.trade import load
    from baylore_kb.values import Advice, Case, Complaint, Reading, Terms, TestDone, Vehicle

_HOME = {
    "advise": "advice",
    "BayloreError": "errors",
    "Snapshot": "index",
    "load": "trade",
    **dict.fromkeys(("Advice", "Case", "Complaint", "Reading", "Terms", "TestDone", "Vehicle"), "values"),
}

__all__ = [
    "Advice",
    "BayloreError",
    "Case",
    "Complaint",
    "Reading",
    "Snapshot",
    "Terms",
    "TestDone",
    "Vehicle",
    "advise",
    "load",
]


def __getattr__(name: str) -> Any:
    """The public names, each imported when first used: importing the package alone stays cheap."""
    if name not in _HOME:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
