"""Which part source a shop favours is told of the cases as they are, and anew only where they changed."""

from dataclasses import replace
from importlib import import_module
from unittest.mock import patch

from hypothesis import given, settings
from hypothesis import strategies as st
from test_afar import Shelf, told

from baylore_kb.afar import FarSnapshot
from baylore_kb.index import Snapshot
from baylore_kb.parts import best_source
from baylore_kb.plan.mends import PartWay
from baylore_kb.plan.part_ways import part_ways
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Labour, PartTried, Terms

TRADE, TERMS = load(), Terms()
FAN, RELAY, NEVER = "cooling.fan_motor", "starting.starter", "fuel.pump"
CAUSE = "cooling.fan_motor.worn"


def fitted(component, source, result, price):
    return PartTried(component, source, result, price=price)


def a_case(number, *parts, returned_as=()):
    said = Complaint("fan dead", parts=parts)
    labour = Labour(repair_min=40.0)
    return Case(f"c{number}", said, "closed", cause=CAUSE, labour=labour, returned_as=returned_as)


parts = st.builds(
    fitted,
    st.sampled_from((FAN, RELAY)),
    st.sampled_from(("maker", "aftermarket", "used")),
    st.sampled_from(("cured", "partly", "no change", "failed later", None)),
    st.none() | st.sampled_from((20.0, 95.0)),
)
numbers = st.integers(0, 7)
held = st.builds(
    lambda number, tried, back: a_case(number, *tried, returned_as=[f"c{n}" for n in back if n != number]),
    numbers,
    st.lists(parts, max_size=3),
    st.lists(numbers, max_size=1),
)
changes = st.lists(st.tuples(st.lists(held, max_size=3), st.lists(numbers.map("c{}".format), max_size=2)))


def by_looking_at_all(cases):
    """What the cases with a part of each component tell, with those their cars came back as."""
    found = {}
    for component in (FAN, RELAY, NEVER):
        fit = [case for case in cases.values() if any(p.component == component for p in case.complaint.parts)]
        asked = {case.id: case for case in fit}
        asked |= {id: cases[id] for case in fit for id in case.returned_as if id in cases}
        best = best_source(asked.values(), component, terms=TERMS, trade=TRADE)
        if best is not None:
            found[component] = PartWay(best.source, best.expected_cost)
    return found


def told_by(snapshot):
    return part_ways(snapshot, (FAN, RELAY, NEVER), terms=TERMS)


@given(changes)
@settings(max_examples=40, deadline=None)
def test_whatever_changes_the_ways_are_those_of_the_living_cases(changes):
    snapshot = Snapshot.build([], trade=TRADE)
    for revision, (put, deleted) in enumerate(changes, start=1):
        snapshot = snapshot.with_changes(put=put, deleted=deleted, revision=revision)
        assert told_by(snapshot) == by_looking_at_all(snapshot.cases)
    for tidied in (snapshot.joined(), snapshot.compacted()):
        assert told_by(tidied) == by_looking_at_all(snapshot.cases)


def test_a_far_memory_tells_of_the_cases_it_has_sampled():
    cases = [
        a_case(n, fitted(FAN, "aftermarket", "cured", 20.0), returned_as=(f"c{n + 1}",)) for n in range(9)
    ]
    empty = FarSnapshot.none(TRADE, Shelf())
    far = empty.with_news(told(empty, cases), revision=1)
    sampled = {id: doc.case for id, doc in far.sampled.items()}
    assert sampled and told_by(far) == by_looking_at_all(sampled)


def counted(snapshot, terms=TERMS):
    """For which components the cases are gone through once more."""
    asked = []

    def best(cases, component, **options):
        asked.append(component)
        return best_source(cases, component, **options)

    with patch.object(import_module(part_ways.__module__), "best_source", best):
        part_ways(snapshot, (FAN, RELAY), terms=terms)
    return asked


def test_only_the_component_whose_cases_changed_is_told_anew():
    fan, relay = fitted(FAN, "maker", "cured", 95.0), fitted(RELAY, "used", "partly", 20.0)
    first = Snapshot.build(
        [a_case(1, fan), a_case(2, relay), a_case(3, fan, returned_as=("c4",))], trade=TRADE
    )
    assert counted(first) == [FAN, RELAY] and counted(first) == []
    unrelated = first.with_changes(put=[a_case(5)], deleted=(), revision=1)
    assert counted(unrelated) == []
    more = unrelated.with_changes(put=[a_case(6, relay)], deleted=(), revision=2)
    assert counted(more) == [RELAY]
    back = more.with_changes(put=[a_case(4)], deleted=(), revision=3)
    assert counted(back) == [FAN]
    other_money = replace(TERMS, rate_per_hour=TERMS.rate_per_hour + 5.0)
    assert counted(back, other_money) == [FAN, RELAY]
    assert counted(back.with_trade(replace(TRADE), revision=4)) == [FAN, RELAY]
