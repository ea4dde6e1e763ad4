"""The trade knowledge: systems, symptoms, quantities, tests, causes, cautions."""

from __future__ import annotations

from functools import cache
from importlib.resources.abc import Traversable

from baylore_kb.trade.build import build
from baylore_kb.trade.faults import Faults
from baylore_kb.trade.files import read
from baylore_kb.trade.model import Trade
from baylore_kb.trade.rules import check

__all__ = ["Trade", "load"]


@cache
def load(folder: Traversable | None = None) -> Trade:
    """The trade knowledge in `folder` (a Path, say), None for the shipped files; read once.

    Raises TradeFault naming every fault found, each with its file and entry.
    """
    faults = Faults()
    rows = read(folder, faults)
    trade = build(rows)
    check(rows, trade, faults)
    faults.raise_if_any()
    return trade
