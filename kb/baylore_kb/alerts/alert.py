"""An alert: what stands out, how much, and on which cases it rests."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

Kind = Literal["signal", "trend", "source", "comebacks"]
KINDS: tuple[Kind, ...] = ("signal", "trend", "source", "comebacks")


@dataclass(frozen=True, slots=True)
class Alert:
    """Something to look at; `subject` is the same for the same thing, `level` the cases it rests on.

    `sure` tells a controlled discovery from an early hint. `figures` are the numbers behind `says`.
    """

    kind: Kind
    subject: str
    title: str
    says: str
    level: int
    sure: bool
    figures: Mapping[str, float]
    key: Mapping[str, str]
    cases: tuple[str, ...]
