"""How far a part fitted on one visit of a car ran, and which part proved to be at fault."""

from __future__ import annotations

from baylore_kb.parts.life import Run
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case, PartTried
from baylore_kb.visits import Visits


def run_of(part: PartTried, case: Case, visits: Visits, trade: Trade) -> Run | None:
    """How far `part` ran from its fitting on; None where the car was not seen again further on."""
    held = visits.get(case.id, ())
    fitted = next((km for km, visit in held if visit.id == case.id), None)
    later = [(km, visit) for km, visit in held if fitted is not None and km > fitted]
    if fitted is None or not later:
        return None
    failed = next((km for km, visit in later if faulty_component(visit, trade) == part.component), None)
    end = later[-1][0] if failed is None else failed
    return Run(end - fitted, failed is not None)


def faulty_component(case: Case, trade: Trade) -> str | None:
    """The component of the confirmed cause, else of the correction; None when neither is known."""
    cause = trade.causes.get(case.cause or "")
    if cause is not None:
        return cause.component
    return case.correction.component if case.correction else None
