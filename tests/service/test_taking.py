"""What one record takes of another can be given back to the letter."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.values import Correction, Labour, Measure, Reading, TestDone, Vehicle
from baylore_service.desk import taking
from baylore_service.errors import BadValue
from baylore_service.store import records
from baylore_service.store.records import CaseFile, ReadingStep, Stamp

AT = datetime(2026, 3, 11, 9, tzinfo=UTC)
WORDS = st.text(alphabet="abc xyz.;\n", max_size=20).map(lambda text: " ".join(text.split()))
CODES = st.lists(st.sampled_from(("P0300", "P0480", "U0100")), unique=True, max_size=3).map(tuple)
CARS = st.builds(
    Vehicle,
    year=st.sampled_from((None, 2011)),
    make=st.sampled_from(("", "Tarrow")),
    model=st.sampled_from(("", "Linnet")),
    engine=st.sampled_from(("", "1.6 petrol")),
    odometer=st.sampled_from((None, Measure(141_000, "km"))),
    traits=st.sampled_from((frozenset(), frozenset({"manual"}))),
)
READINGS = st.builds(Reading, st.just("batt_rest"), st.sampled_from((12.1, 12.6)), st.just("V"))
TESTS = st.builds(TestDone, st.just("crank_drop_neg"), st.sampled_from(("ok", "high")))


@st.composite
def files(draw: st.DrawFn, name: str) -> CaseFile:
    """A closed case with steps of its own ids."""
    readings = draw(st.lists(READINGS, max_size=3))
    tests = draw(st.lists(TESTS, max_size=2))
    return CaseFile(
        id=name,
        revision=1,
        state="closed",
        title="",
        opened=AT,
        closed=AT,
        updated=AT,
        complaint_text="one click",
        vehicle=draw(CARS),
        codes=draw(CODES),
        comes_and_goes=draw(st.booleans()),
        readings=tuple(ReadingStep(Stamp(f"{name}-r{n}", AT, name), each) for n, each in enumerate(readings)),
        tests=tuple(records.TestStep(Stamp(f"{name}-t{n}", AT, name), each) for n, each in enumerate(tests)),
        cause=draw(st.sampled_from(("starting.starter.worn", "own.mouse"))),
        correction=draw(st.sampled_from((None, Correction("replace")))),
        note=draw(WORDS),
        labour=Labour(repair_min=draw(st.sampled_from((0.0, 30.0))), rate_per_hour=90.0),
    )


@given(files("a"), files("b"))
def test_what_was_taken_and_given_back_leaves_the_case_as_it_was(one: CaseFile, other: CaseFile) -> None:
    taken = taking.lacking(one, other)
    assert taking.taken_out(taking.put_in(one, other, taken), other, taken) == one


@given(files("a"), files("b"))
def test_nothing_the_other_says_is_lost_and_nothing_is_said_twice(one: CaseFile, other: CaseFile) -> None:
    joined = taking.put_in(one, other, taking.lacking(one, other))
    assert set(joined.codes) == {*one.codes, *other.codes}
    values = [each.reading.value for each in joined.readings]
    assert {*values} == {each.reading.value for each in (*one.readings, *other.readings)}
    assert other.note in joined.note and one.note in joined.note
    again = taking.lacking(joined, replace(other, photos=()))
    assert not (again.steps or again.codes or again.vehicle or again.note)


def test_together_they_hold_no_more_than_one_case_may() -> None:
    step = records.TestStep(Stamp("x", AT, None), TestDone("crank_drop_neg", "ok"))
    base = CaseFile("a", 1, "open", "", AT, None, AT, "one click")
    many = tuple(
        replace(step, stamp=Stamp(f"s{n}", AT, None), test=replace(step.test, note=f"{n}"))
        for n in range(400)
    )
    one, other = replace(base, tests=many[:300]), replace(base, id="b", tests=many[200:])
    assert len(taking.put_in(one, other, taking.lacking(one, other)).tests) == 400
    full = replace(
        one, tests=(*many[:300], *(replace(each, test=replace(each.test, minutes=1)) for each in many[:99]))
    )
    with pytest.raises(BadValue, match="tests"):
        taking.put_in(full, other, taking.lacking(full, other))
