"""How far the original part runs on cars this shop knows, where its data allow to say so."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from baylore_kb.recurrence.lives import (
    ENOUGH_AT_RISK,
    ENOUGH_FAILURES,
    Span,
    Step,
    Weibull,
    median_life,
    survival,
    told,
    weibull,
)
from baylore_kb.recurrence.sightings import counts, sighting
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case
from baylore_kb.visits import Visits, visits_by_case


@dataclass(frozen=True, slots=True)
class PartLife:
    """The life of a component on a model, in km; no `steps` and no `fit` where too little is known.

    `cars` were followed over some distance, `failures` failed on the way, `dropped` failed where they were
    first seen and tell nothing of life. `quartiles` are of all failures seen, None under four.
    """

    model: str
    component: str
    cars: int
    failures: int
    dropped: int
    steps: tuple[Step, ...]
    median_km: float | None
    fit: Weibull | None
    quartiles: tuple[float, float, float] | None
    says: str


def part_life(
    cases: Iterable[Case],
    *,
    model: str,
    component: str,
    trade: Trade,
    quartiles: tuple[float, float, float] | None = None,
) -> PartLife:
    """The life of `component` on cars of `model` ("make model", case ignored), each from its first visit on.

    A car is watched from the odometer of its first visit to its failure or its last visit; one known by
    a VIN or a comeback. No cars, an empty life that says so.
    """
    spans = _spans(_cars(visits_by_case(_of_model(cases, model))), component, trade)
    held = told(spans)
    failures = sum(span.failed for span in held)
    dropped = sum(span.failed for span in spans) - failures
    enough = failures >= ENOUGH_FAILURES
    steps = survival(held, least_at_risk=ENOUGH_AT_RISK) if enough else ()
    return PartLife(
        model=model,
        component=component,
        cars=len(held),
        failures=failures,
        dropped=dropped,
        steps=steps,
        median_km=median_life(steps),
        fit=weibull(held) if steps else None,
        quartiles=quartiles,
        says=_says(steps, held, failures=failures, dropped=dropped),
    )


def _of_model(cases: Iterable[Case], model: str) -> list[Case]:
    wanted = model.casefold()
    return [case for case in cases if _model(case) == wanted]


def _model(case: Case) -> str:
    vehicle = case.complaint.vehicle
    return f"{vehicle.make} {vehicle.model}".strip().casefold()


def _cars(visits: Visits) -> list[Sequence[tuple[float, Case]]]:
    """The visits of each car once."""
    return list({id(held): held for held in visits.values()}.values())


def _spans(cars: Iterable[Sequence[tuple[float, Case]]], component: str, trade: Trade) -> list[Span]:
    return [_span(visits, component, trade) for visits in cars]


def _span(visits: Sequence[tuple[float, Case]], component: str, trade: Trade) -> Span:
    entry, end = visits[0][0], visits[-1][0]
    failed = next((km for km, case in visits if _failed(case, component, trade)), None)
    return Span(end, False, entry) if failed is None else Span(failed, True, entry)


def _failed(case: Case, component: str, trade: Trade) -> bool:
    return counts(case) and sighting(case, trade).names.get("component") == component


def _says(steps: Sequence[Step], held: Sequence[Span], *, failures: int, dropped: int) -> str:
    left_out = f" {dropped} failed at their first visit and tell nothing of life." if dropped else ""
    if not steps:
        return (
            f"{failures} failures among {len(held)} cars that were seen more than once: too few for a life "
            f"curve. Quartiles are of seen failures only.{left_out}"
        )
    start, last = _thousands(steps[0].at), steps[-1]
    return (
        f"Of parts alive at {start} km on cars seen here, {100.0 * last.survival:.0f} % were still alive at "
        f"{_thousands(last.at)} km ({failures} failures, {len(held)} cars).{left_out}"
    )


def _thousands(km: float) -> str:
    return f"{round(km, -3):,.0f}".replace(",", " ")
