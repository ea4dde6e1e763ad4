"""Typed and dictated text is cut into one spelling of each thing."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.tokens import MAX_CHARS, fold, split


def texts(text, kind=None):
    return [token.text for token in split(text) if kind in (None, token.kind)]


@pytest.mark.parametrize("typed", ["12.1 volts", "12.1v", "12,1 V", "twelve point one volts"])
def test_a_voltage_has_one_spelling(typed):
    assert texts(typed) == ["12.1v"]


def test_the_same_pressure_in_three_units_shares_a_form():
    forms = [set(split(text)[0].also) for text in ("68 psi", "4.7 bar", "470 kPa")]
    assert set.intersection(*forms) == {"~470kpa"}


def test_the_same_temperature_in_both_units_shares_a_form():
    assert split("90 F")[0].also == split("32 °C")[0].also


@pytest.mark.parametrize(
    "typed", ["P0301", "p0301", "p 0301", "P-0301", "po301", "p zero three oh one", "P 0 3 0 1", "P0301-13"]
)
def test_a_trouble_code_has_one_spelling(typed):
    assert texts(f"found {typed} again", "code") == ["P0301"]


@pytest.mark.parametrize("typed", ["cocoa", "class C 2011 model", "put 2 back", "b 2 b"])
def test_ordinary_words_are_no_codes(typed):
    assert texts(typed, "code") == []


def test_a_part_number_stays_whole_and_has_its_bare_form_beside_it():
    token = split("fitted 7P0-820-803")[1]
    assert (token.text, token.kind, token.also[0]) == ("7p0-820-803", "part", "7p0820803")


def test_words_joined_by_a_slash_are_two_words():
    assert texts("front/rear re-test") == ["front", "rear", "re", "test"]


def test_short_forms_with_strokes_or_dots_are_one_word():
    assert texts("A/C n/w o.l.") == ["ac", "nw", "ol"]


def test_accents_case_and_width_fold_away():
    assert fold("Ｂａｔｔéry ÀÉ") == "battery ae"


@given(st.text(max_size=400))
def test_any_text_is_cut_without_complaint_and_folding_twice_changes_nothing(text):
    for token in split(text):
        assert token.text and token.shown
    assert fold(fold(text)) == fold(text)


def test_a_page_of_signs_is_cut_in_bounded_pieces():
    for sign in ("-", "a-", "1.", "p 0 ", "/", "a'", "9", "é"):
        assert sum(len(token.shown) for token in split(sign * MAX_CHARS)) <= 2 * MAX_CHARS
