"""Short hand is read by what was meant before, and by what short hand does."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.spelling import Speller

WORDS = {
    "service": 40, "replace": 60, "inspection": 30, "alternator": 12, "hydraulic": 20, "leak": 25, "in": 5,
    "out": 5, "left": 9, "hand": 9, "burning": 4, "turning": 6, "gearbox": 9,
}  # fmt: skip
PAIRS = [(["chk", "l/h", "brg"], ["check", "left hand", "bearing"]), (["rep", "hose"], ["repair", "hose"])]
SPELLER = Speller(PAIRS, words=WORDS)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("rplc", "replace"), ("insp", "inspection"), ("altenator", "alternator"), ("hydrulic", "hydraulic")],
)
def test_a_word_never_seen_is_read_by_what_short_hand_does(typed, meant):
    assert SPELLER.read([typed]) == (meant,)


def test_a_pair_seen_before_is_read_as_it_was_meant():
    assert SPELLER.read(["CHK", "L/H", "brg"]) == ("check", "left hand", "bearing")


def test_neighbours_decide_between_two_readings():
    pairs = [(["rep", "hose"], ["repair", "hose"])] * 2 + [(["rep", "filter"], ["replace", "filter"])] * 2
    speller = Speller(pairs)
    assert speller.read(["rep", "filter"])[0] == "replace" and speller.read(["rep", "hose"])[0] == "repair"


def test_words_joined_by_a_sign_are_read_one_by_one():
    assert SPELLER.read(["in/out", "&replace", "leak."]) == ("in / out", "and replace", "leak")


def test_known_words_and_their_forms_are_left_alone():
    written = ["burning", "leaking", "gearboxes", "replaced", "P0301"]
    assert SPELLER.read(written) == ("burning", "leaking", "gearboxes", "replaced", "p0301")


def test_a_handful_of_pairs_changes_the_next_reading():
    assert Speller(words=WORDS).read(["trq"]) == ("trq",)
    assert Speller([(["trq"], ["torque"])], words=WORDS).read(["trq"]) == ("torque",)


@given(st.lists(st.text(min_size=1, max_size=12), max_size=6))
def test_any_words_give_as_many_readings(written):
    assert len(SPELLER.read(written)) == len(Speller().read(written)) == len(written)


def test_a_pair_of_unequal_length_is_refused():
    with pytest.raises(ValueError, match="zip"):
        Speller([(["a"], ["b", "c"])])
