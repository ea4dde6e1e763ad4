"""One row of the recurrence list."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from statistics import median, quantiles
from typing import Literal

from baylore_kb.recurrence.shrink import Ratio
from baylore_kb.recurrence.sightings import Sighting

Signal = Literal["strong", "signal", "none"]
LEAST = 3
STRONG_RATIO = 2.0


@dataclass(frozen=True, slots=True)
class Recurrence:
    """A failure that came back: how often, against what was to be expected, and what it took.

    `ratio` is shrunk, with 90 % limits; all four are None where nothing could be
    expected (no model in the key). Medians are over the cases that have the figure, None
    without any; cost is in the cases' currency. `odometer_km` are the quartiles at
    failure of the seen cases only, None under four. `comebacks` are cases of the row that came
    back or are themselves a return; a return with the same key is not observed twice.
    """

    key: Mapping[str, str]
    title: str
    observed: int
    expected: float | None
    ratio: float | None
    low: float | None
    high: float | None
    signal: Signal
    first: datetime | None
    last: datetime | None
    median_minutes: float | None
    median_cost: float | None
    comebacks: int
    odometer_km: tuple[float, float, float] | None
    cases: tuple[str, ...]


def recurrence(
    key: Mapping[str, str], held: Sequence[Sighting], *, returns: int, expected: float | None, prior: Ratio
) -> Recurrence:
    """The row of the sightings `held` (one or more, each car's returns taken out and counted)."""
    belief = None if expected is None else prior.after(len(held), expected)
    dates = [s.when for s in held if s.when is not None]
    return Recurrence(
        key=key,
        title=", ".join(held[0].titles[name] for name in key),
        observed=len(held),
        expected=expected,
        ratio=belief.mean if belief else None,
        low=belief.quantile(0.05) if belief else None,
        high=belief.quantile(0.95) if belief else None,
        signal=_signal(len(held), belief),
        first=min(dates, default=None),
        last=max(dates, default=None),
        median_minutes=_median([m for s in held if (m := _minutes(s)) > 0]),
        median_cost=_median([s.case.cost.total for s in held if s.case.cost.total > 0]),
        comebacks=returns,
        odometer_km=_quartiles([s.odometer_km for s in held if s.odometer_km is not None]),
        cases=tuple(s.case.id for s in held),
    )


def _signal(observed: int, belief: Ratio | None) -> Signal:
    low = belief.quantile(0.05) if belief else 0.0
    if observed < LEAST or low <= 1.0:
        return "none"
    return "strong" if low > STRONG_RATIO else "signal"


def _minutes(sighting: Sighting) -> float:
    labour = sighting.case.labour
    return labour.diagnosis_min + labour.repair_min


def _median(values: Sequence[float]) -> float | None:
    return median(values) if values else None


def _quartiles(values: Sequence[float]) -> tuple[float, float, float] | None:
    if len(values) < 4:
        return None
    low, middle, high = quantiles(values, n=4, method="inclusive")
    return low, middle, high
