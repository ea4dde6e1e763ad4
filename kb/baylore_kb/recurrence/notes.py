"""What recurrence rows cannot tell, in plain sentences."""

from __future__ import annotations

from collections.abc import Iterator

from baylore_kb.recurrence.sightings import CAR, FAILURE

FEW_CASES = 100


def notes(
    *, by: tuple[str, ...], single: int, incomplete: int, undated: int, visits: bool = False
) -> tuple[str, ...]:
    """The sentences that belong beside rows grouped `by`, resting on `single` cases."""
    return tuple(_notes(by, single, incomplete, undated=undated, visits=visits))


def _notes(by: tuple[str, ...], single: int, incomplete: int, *, undated: int, visits: bool) -> Iterator[str]:
    yield _fleet(visits)
    if set(by) & set(CAR) and set(by) & set(FAILURE):
        yield (
            "Expected counts compare a model's mix of failures with the shop's other cars: one very common "
            "failure makes the model's other failures look rare."
        )
    else:
        yield (
            "Expected counts need the model (or another thing of the car) and one of system, component or "
            "cause in the grouping."
        )
    if single < FEW_CASES:
        yield f"Only {single} closed cases: take every ratio as rough."
    if incomplete:
        yield f"{incomplete} closed cases are left out because {' or '.join(by)} is not known."
    if undated:
        yield f"{undated} closed cases without a date are left out."


def _fleet(visits: bool) -> str:
    if visits:
        return (
            "These are the cars that came to the shop. Rates are per 100 recorded visits for neutral reasons "
            "(oil, tyres): no row says what share of these cars on the road fails."
        )
    return (
        "These are the cars that came to the shop. How many of them are on the road is not known, so no row "
        "says what share of these cars fails."
    )
