"""Complaints said in Spanish: heard as what they mean, and told as what they were read as."""

from __future__ import annotations

import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.kb.invented_shop import empty_shop

from baylore_kb.mend import mend, phrases_read
from baylore_kb.question import understand
from baylore_kb.tools import tools_for
from baylore_kb.trade import load
from baylore_kb.values import Complaint

EMPTY = empty_shop()
TRADE = load()
PHRASES = sorted(TRADE.phrases)


def heard(text: str, **more: tuple[str, ...]) -> list[str]:
    return [each.symptom for each in understand(Complaint(text, **more), EMPTY).heard]


@pytest.mark.parametrize(
    ("text", "symptom"),
    [
        ("no arranca", "cranks_no_start"),
        ("El coche no arranca por las mañanas", "cranks_no_start"),
        ("pierde agua", "coolant_loss_ext"),
        ("ruido al frenar, a veces", "brake_squeal"),
        ("se calienta en subidas", "overheat_load"),
        ("vibra el volante a 100 km/h", "steer_shimmy"),
        ("solo hace clic", "no_crank_click"),
        ("huele a gasolina dentro del coche", "fuel_smell"),
        ("luz de motor encendida, P0303", "cel_on"),
    ],
)
def test_a_complaint_in_spanish_is_heard(text: str, symptom: str) -> None:
    assert heard(text)[0] == symptom


def test_it_says_what_was_read_as_what_and_where() -> None:
    text = "ayer no arranca en frío"
    told = [each for each in understand(Complaint(text), EMPTY).read_as if each.kind == "translated"]
    assert [(each.typed, each.read) for each in told] == [
        ("no arranca", "won't start"),
        ("en frío", "when cold"),
    ]
    assert [text[each.at or 0 :].startswith(each.typed) for each in told] == [True, True]


def test_a_phrase_taken_as_typed_is_left_alone() -> None:
    assert "cranks_no_start" not in heard("no arranca", as_typed=("no arranca",))


def test_every_phrase_has_two_to_five_words_and_one_meaning() -> None:
    keys = phrases_read(TRADE)
    assert set(TRADE.phrases.values()) <= {phrase.read for phrase in keys.values()}
    assert all(2 <= len(said.split()) <= 5 for said in PHRASES)
    assert len({key for key in keys if " ".join(key) in map(bare, PHRASES)}) == len(PHRASES)


def test_what_every_complaint_is_read_as_is_heard_by_itself() -> None:
    spotter = tools_for(TRADE).spotter
    around = {"sometimes", "the car", "the engine", "inside the car", "when standing"}
    deaf = [read for read in set(TRADE.phrases.values()) - around if not spotter.hear(read)]
    assert [read for read in deaf if not read.startswith(("on the ", "at ", "in the ", "when "))] == []


def bare(text: str) -> str:
    """Without capitals and accents."""
    apart = unicodedata.normalize("NFKD", text.lower())
    return "".join(sign for sign in apart if not unicodedata.combining(sign))


@given(st.sampled_from(PHRASES), st.booleans(), st.booleans())
def test_accents_and_capitals_make_no_difference(phrase: str, without_accents: bool, capitals: bool) -> None:
    typed = bare(phrase) if without_accents else phrase
    typed = typed.upper() if capitals else typed
    mended, changes = mend(typed, EMPTY.vocabulary)
    assert (mended, len(changes)) == (TRADE.phrases[phrase], 1)
