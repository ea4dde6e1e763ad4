"""The shop's own tests as records like the listed ones, and listed tests as the shop does them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from baylore_kb.trade.model import Cause, LikelihoodRow, Outcome, Test, Trade, VehicleState
from baylore_kb.trade.own.entries import OwnTest

Alike = Callable[[Cause], bool]
FOUND, NOT_FOUND = "found", "not_found"
# P(found) under what a test points at and under anything else; common practice, no published source. The
# shop's own results soon outweigh both.
FOUND_UNDER, FOUND_ELSE = 0.85, 0.05
POINTED, ELSE = "what it looks for", "anything else"
STATE = VehicleState("on", raised=False, battery="connected", wheels="on")


def test_records(
    tests: Iterable[OwnTest], causes: Sequence[Cause], shipped: Trade, *, minutes: Mapping[str, float]
) -> dict[str, Test]:
    """All tests by id, the listed ones first: in the shop's minutes and with its own causes in their classes.

    An own test that points at nothing known, or in no known system, is left out.
    """
    known = shipped.causes.keys() | {cause.id for cause in causes}
    records = {
        test.id: _in_minutes(_joined(test, causes, shipped), minutes) for test in shipped.tests.values()
    }
    for own in tests:
        pointed = tuple(cause for cause in own.points_at if cause in known)
        if pointed and own.system in shipped.systems:
            records[own.id] = _record(own, pointed, shipped)
    return records


def _record(own: OwnTest, pointed: tuple[str, ...], shipped: Trade) -> Test:
    return Test(
        id=own.id,
        title=own.title,
        system=own.system,
        offer_for=() if own.retired else (own.system,),
        for_symptoms=() if own.retired else tuple(s for s in own.for_symptoms if s in shipped.symptoms),
        only_if=(),
        decides=(POINTED,),
        state=STATE,
        tools=own.tools,
        setup_min=0.0,
        do_min=max(1.0, own.minutes),
        skill=own.skill,
        quantity=None,
        also_read=(),
        steps=own.steps or (own.title,),
        outcomes=(
            Outcome(FOUND, "found", None, names_part=len(pointed) > 1),
            Outcome(NOT_FOUND, "not found", None, names_part=False),
        ),
        likelihood=(_row(POINTED, pointed, FOUND_UNDER), _row(ELSE, (), FOUND_ELSE)),
        cautions=shipped.systems[own.system].cautions,
    )


def _row(name: str, causes: tuple[str, ...], found: float) -> LikelihoodRow:
    return LikelihoodRow(name, causes, {FOUND: found, NOT_FOUND: round(1.0 - found, 6)})


def _in_minutes(test: Test, minutes: Mapping[str, float]) -> Test:
    """The test in the shop's minutes for the whole of it: set-up as listed as far as it leaves one to do."""
    if test.id not in minutes:
        return test
    setup = min(test.setup_min, max(0.0, minutes[test.id] - 1.0))
    return replace(test, setup_min=setup, do_min=max(1.0, minutes[test.id] - setup))


def _joined(test: Test, causes: Sequence[Cause], shipped: Trade) -> Test:
    """The test with own causes in its classes where it is clear in which."""
    places = {cause.id: place for cause in causes if (place := _class_of(cause, test, shipped)) is not None}
    if not places:
        return test
    rows = tuple(
        replace(row, causes=(*row.causes, *(id for id, at in places.items() if at == place)))
        for place, row in enumerate(test.likelihood)
    )
    return replace(test, likelihood=rows)


def _class_of(cause: Cause, test: Test, shipped: Trade) -> int | None:
    """The class with the causes of the same component where one alone has them.

    A test that confirms the cause has it with most of the component's causes, else of the system's.
    """
    by_part = _share(test, shipped, lambda other: other.component == cause.component)
    if len(by_part) == 1 or (by_part and test.id == cause.confirm_test):
        return by_part.most_common(1)[0][0]
    if test.id != cause.confirm_test:
        return None
    by_system = _share(test, shipped, lambda other: other.system == cause.system)
    return by_system.most_common(1)[0][0] if by_system else None


def _share(test: Test, shipped: Trade, alike: Alike) -> Counter[int]:
    """How many causes of each class are alike; classes without any are left out."""
    return +Counter(
        {
            place: sum(alike(shipped.causes[cause]) for cause in row.causes)
            for place, row in enumerate(test.likelihood)
        }
    )
