"""Unknown words are mended to the shop's own and always reported; known ones are left alone."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baylore_kb.index import Snapshot
from baylore_kb.mend import applied, mend
from baylore_kb.question import understand
from baylore_kb.trade import load
from baylore_kb.trade.own import with_own
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


@pytest.mark.parametrize("rare", ["steaming", "protection", "treating"])
def test_a_word_that_looks_like_one_is_not_read_as_another_two_slips_away(rare):
    assert mend(f"noise when {rare}", VOCABULARY) == (f"noise when {rare}", ())


def test_a_misheard_phrase_is_read_as_what_was_likely_said():
    mended, changes = mend("Rabbit cycle on hot days", VOCABULARY)
    assert mended == "rapid cycle on hot days"
    assert changes[0].typed == "Rabbit cycle"


def test_of_two_neighbours_the_word_the_shop_writes_wins():
    shop = Snapshot.build(
        [Case(f"c{n}", Complaint("brixel stuck")) for n in range(5)] + [Case("d", Complaint("brizel"))]
    )
    assert mend("briel", shop.vocabulary)[0] == "brixel"


SLIPS = "washr battrey alter nator wheelbearing rabbit cycle pmp P0301 12.1V not AC fan"
MESSY = st.lists(st.sampled_from(SLIPS.split()) | st.text(max_size=8))


@given(st.lists(MESSY, max_size=6).map(lambda parts: " ".join(word for part in parts for word in part)))
@settings(deadline=None)
def test_what_is_searched_is_what_was_typed_with_the_told_changes_and_no_other(text):
    asked = understand(Complaint(text), SHOP)
    assert asked.mended == applied(text, asked.read_as)
    for each in asked.read_as:
        assert each.at is None or text[each.at : each.at + len(each.typed)] == each.typed
    assert all(each.at is not None for each in asked.read_as if each.kind not in ("sense", "own", "car"))


@given(MESSY.map(" ".join))
@settings(deadline=None)
def test_all_that_was_changed_can_be_taken_back_and_then_stays(text):
    right: tuple[str, ...] = ()
    while told := understand(Complaint(text, as_typed=right), SHOP).read_as:
        assert told[0].typed not in right
        right += (told[0].typed,)
    assert understand(Complaint(text, as_typed=right), SHOP).mended == text


@pytest.mark.parametrize(
    ("typed", "kind"),
    [
        ("washr", "slip"),
        ("alter nator", "joined"),
        ("wheelbearing", "parted"),
        ("Rabbit cycle", "misheard"),
        ("pmp", "short"),
        ("comp", "sense"),
    ],
)
def test_one_change_is_taken_back_and_the_others_stay(typed, kind):
    text = f"battrey dead, {typed} noisy"
    told = understand(Complaint(text), SHOP).read_as
    assert kind in [each.kind for each in told if each.typed == typed]
    again = understand(Complaint(text, as_typed=(typed.upper(),)), SHOP)
    assert [each.typed for each in again.read_as] == ["battrey"]
    assert again.mended == f"battery dead, {typed} noisy"


def test_a_word_said_to_be_right_as_typed_is_not_mended_in_that_question():
    shop = Snapshot.build([])
    asked = understand(Complaint("compresor howls"), shop)
    assert [each.typed for each in asked.read_as] == ["compresor"]
    again = understand(Complaint("compresor howls", as_typed=("Compresor",)), shop)
    assert again.read_as == () and again.mended == "compresor howls"


def test_a_word_of_the_shops_list_is_known_from_then_on():
    shop = Snapshot.build([], trade=with_own(load(), words={"grobble": ""}))
    asked = understand(Complaint("grobble in the boot"), shop)
    assert asked.read_as == () and shop.vocabulary.knows("grobble")
    assert not Snapshot.build([]).vocabulary.knows("grobble")


@pytest.mark.parametrize(
    ("typed", "read"), [("pmp", "pump"), ("wtr", "water"), ("strtr", "starter"), ("hyd", "hydraulic")]
)
def test_short_hand_without_vowels_is_read_and_said(typed, read):
    mended, changes = mend(f"{typed} noisy", VOCABULARY)
    assert mended == f"{read} noisy"
    assert [(each.typed, each.read) for each in changes] == [(typed, read)]
