"""A case file as JSON and back."""

from __future__ import annotations

import json
from datetime import UTC, datetime

from hypothesis import given
from hypothesis import strategies as st

from baylore_kb import values as kb
from baylore_service.store import records as r
from baylore_service.store.document import from_text, to_text
from baylore_service.store.drafts import own_words

words = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)
numbers = st.floats(allow_nan=False, allow_infinity=False)
moments = st.datetimes(timezones=st.just(UTC))
measures = st.builds(kb.Measure, numbers, words)
conditions = st.dictionaries(words, st.one_of(numbers, words, st.booleans(), measures), max_size=3)
whens = st.sampled_from(["before", "after"])
readings = st.builds(kb.Reading, words, numbers, words, words, whens, conditions)
tests = st.builds(kb.TestDone, words, words, st.none() | numbers, words, st.none() | words, st.booleans())
parts = st.builds(
    kb.PartTried, words, st.just("maker"), st.none() | st.just("cured"), st.none() | numbers, words
)
repairs = st.builds(kb.RepairTried, words, st.just("partly"), st.none() | numbers, words)
skips = st.builds(kb.Skipped, words, st.just("no tool"), words)
objections = st.builds(kb.Objected, words, st.just("proved good"), words)
stamps = st.builds(r.Stamp, words, moments, st.none() | words)
cars = st.builds(
    kb.Vehicle,
    st.none() | st.integers(1950, 2100),
    words,
    words,
    odometer=st.none() | measures,
    traits=st.frozensets(words, max_size=3),
)
photos = st.builds(
    r.Photo, words, words, st.integers(0, 10**9), words, st.none() | words, moments, st.none() | words
)
files = st.builds(
    r.CaseFile,
    id=words,
    revision=st.integers(0, 2**53),
    state=st.sampled_from(["open", "closed", "unresolved"]),
    title=words,
    opened=moments,
    closed=st.none() | moments,
    updated=moments,
    complaint_text=words,
    vehicle=cars,
    readings=st.lists(st.builds(r.ReadingStep, stamps, readings), max_size=2).map(tuple),
    tests=st.lists(st.builds(r.TestStep, stamps, tests), max_size=2).map(tuple),
    parts=st.lists(st.builds(r.PartStep, stamps, parts), max_size=2).map(tuple),
    repairs=st.lists(st.builds(r.RepairStep, stamps, repairs), max_size=2).map(tuple),
    skipped=st.lists(st.builds(r.SkipStep, stamps, skips), max_size=2).map(tuple),
    objections=st.lists(st.builds(r.ObjectionStep, stamps, objections), max_size=2).map(tuple),
    shows_when=st.lists(words, max_size=2).map(tuple),
    photos=st.lists(photos, max_size=2).map(tuple),
    correction=st.none() | st.builds(kb.Correction, words, st.none() | words, words),
    labour=st.builds(kb.Labour, numbers, numbers, numbers, st.none() | numbers),
    cost=st.builds(kb.Cost, numbers, numbers, numbers, words),
)


@given(files)
def test_a_case_comes_back_as_it_was(file: r.CaseFile) -> None:
    assert from_text(to_text(file)) == file


@given(files)
def test_equal_cases_give_equal_text(file: r.CaseFile) -> None:
    assert to_text(from_text(to_text(file))) == to_text(file)


def test_a_document_of_an_older_service_takes_defaults_for_what_it_lacks() -> None:
    moment = "2025-01-02T03:04:05Z"
    older = {"id": "a", "revision": 3, "state": "open", "title": "", "opened": moment, "closed": None}
    older |= {"updated": moment, "complaint_text": "no heat"}
    file = from_text(json.dumps(older))
    assert (file.vehicle, file.tests, file.by) == (kb.Vehicle(), (), None)
    assert (file.repairs, file.skipped, file.objections, file.shows_when) == ((), (), (), ())
    assert file.opened == datetime(2025, 1, 2, 3, 4, 5, tzinfo=UTC)


@given(words)
def test_a_note_of_a_member_reaches_the_engine_as_it_is(note: str) -> None:
    assert own_words(note) == note


def test_of_a_drafted_note_the_engine_gets_only_what_a_member_wrote() -> None:
    note = "Complaint: no crank.\nRuled out: battery.\nCause: cable.\nAlso: check the cable first."
    assert own_words(note) == "check the cable first."
