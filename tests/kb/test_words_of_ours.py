"""A word of the shop's own is read as it is written, and beside it as the plain term it stands for."""

import pytest

from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.trade import load
from baylore_kb.trade.own import with_own
from baylore_kb.values import Case, Complaint, Vehicle

WORM = with_own(load(), words={"tin worm": "rust", "grobble": "", "box": "gearbox"})
CASES = [
    Case(
        "rusty", Complaint("rust under the sill"), "closed", cause_title="Sill rusted through", verified=True
    ),
    Case("wormy", Complaint("tin worm in the floor"), "closed", cause_title="Floor welded", verified=True),
    Case("other", Complaint("horn dead in rain"), "closed", cause_title="Horn relay", verified=True),
    Case("no box", Complaint("box grinds in third"), "closed", cause_title="Bearing", verified=True),
]
SHOP = Snapshot.build(CASES, trade=WORM)


def found(text: str, shop: Snapshot = SHOP) -> set[str]:
    """The cases found by words."""
    question = understand(Complaint(text), shop)
    return {each.case.id for each in shop.candidates(question) if "words" in each.reasons}


def told(text: str, **given) -> list[tuple[str, str, str]]:
    """What was read as what."""
    read = understand(Complaint(text, **given), SHOP).read_as
    return [(each.typed, each.read, each.kind) for each in read]


@pytest.mark.parametrize("asked", ["rust", "tin worm", "Tin Worm!"])
def test_cases_are_found_by_either_word(asked):
    assert {"rusty", "wormy"} <= found(asked)


def test_the_shops_own_words_still_tell_its_cases_apart():
    question = understand(Complaint("tin worm"), SHOP)
    assert [each.case.id for each in SHOP.candidates(question)][0] == "wormy"


def test_the_plain_term_is_told_and_can_be_taken_back():
    assert told("tin worm at the jack point") == [("tin worm", "rust", "own")]
    assert told("tin worm at the jack point", as_typed=("Tin worm",)) == []
    assert "rusty" not in found("tin worm", Snapshot.build(CASES))


def test_the_shops_meaning_stands_before_any_other():
    assert [read for read in told("box noisy") if read[0] == "box"] == [("box", "gearbox", "own")]


def test_a_phrase_of_the_shops_is_never_mended():
    shop = Snapshot.build([], trade=with_own(load(), words={"rabbit cycle": ""}))
    assert understand(Complaint("rabbit cycle on hot days"), shop).mended == "rabbit cycle on hot days"


def test_a_word_kept_without_a_meaning_is_read_as_no_other():
    asked = "09 tarow linnet, comp noisy"
    cars = [Case("t", Complaint("noisy", Vehicle(2009, "Tarrow", "Linnet")), "closed")]
    bare = Snapshot.build(cars)
    assert {each.kind for each in understand(Complaint(asked), bare).read_as} == {"car", "sense"}
    ours = Snapshot.build(cars, trade=with_own(load(), words={"comp": "", "09 tarow linnet": ""}))
    assert understand(Complaint(asked), ours).read_as == ()


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ({}, {"tin worm": "rust", "no go": "dead"}),
        ({"tin worm": "rust", "box": "gearbox"}, {"tin worm": "floor", "box": ""}),
        ({"in the": "rust", "grobble": "rust"}, {}),
    ],
)
def test_lists_that_change_answer_like_a_shop_built_with_them(before, after):
    moved = Snapshot.build(CASES, trade=with_own(load(), words=before))
    moved = moved.with_trade(with_own(load(), words=after), revision=3)
    anew = Snapshot.build(CASES, trade=with_own(load(), words=after), revision=3)
    for text in ("tin worm and rust", "box dead", "no go", "horn on the floor"):
        one, other = (understand(Complaint(text), shop) for shop in (moved, anew))
        assert (one.analysis, one.read_as, one.heard) == (other.analysis, other.read_as, other.heard)
        assert seen(moved, one) == seen(anew, other)


def seen(shop, question):
    """The cases found, with what brought each up."""
    return [(each.case.id, each.words, each.chars, each.reasons) for each in shop.candidates(question)]
