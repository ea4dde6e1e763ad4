"""What the office keeps beside cases."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class NeutralVisits:
    """How many cars of a model came for neutral reasons (oil, tyres) in a month, as 2026-03."""

    month: str
    make: str
    model: str
    count: int
