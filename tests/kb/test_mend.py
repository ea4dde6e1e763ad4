"""Unknown words are mended to the shop's own and always reported; known ones are left alone."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baylore_kb.index import Snapshot
from baylore_kb.mend import mend
from baylore_kb.values import Case, Complaint

SHOP = Snapshot.build([Case("c1", Complaint("zorbit valve rattles near the heated screen"))])
VOCABULARY = SHOP.vocabulary


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("washr", "washer"),
        ("comprssor", "compressor"),
        ("battrey", "battery"),
        ("zobrit", "zorbit"),
        ("fna", "fan"),
        ("thn", "then"),
        ("altenrater", "alternator"),
        ("alter nator", "alternator"),
        ("wheelbearing", "wheel bearing"),
    ],
)
def test_a_slip_is_read_as_the_nearest_known_word_and_reported(typed, read):
    mended, changes = mend(f"the {typed} is noisy", VOCABULARY)
    assert mended == f"the {read} is noisy"
    assert [(change.typed, change.read) for change in changes] == [(typed, read)]


@pytest.mark.parametrize(
    "text",
    ["one two clicks", "P0301", "12.1V", "AB12X45", "zorbit valve", "xqzzt", "7P0-820-803", "no click", ""],
)
def test_codes_numbers_parts_known_and_hopeless_words_stay(text):
    assert mend(text, VOCABULARY) == (text, ())


def test_a_misheard_phrase_is_read_as_what_was_likely_said():
    mended, changes = mend("Rabbit cycle on hot days", VOCABULARY)
    assert mended == "rapid cycle on hot days"
    assert changes[0].typed == "Rabbit cycle"


def test_of_two_neighbours_the_word_the_shop_writes_wins():
    shop = Snapshot.build(
        [Case(f"c{n}", Complaint("brixel stuck")) for n in range(5)] + [Case("d", Complaint("brizel"))]
    )
    assert mend("briel", shop.vocabulary)[0] == "brixel"


@given(st.text(max_size=200))
@settings(deadline=None)
def test_mending_twice_changes_nothing_more_where_nothing_was_misheard(text):
    mended, changes = mend(text, VOCABULARY)
    assert changes or mended == text
    for change in changes:
        assert change.typed in text
