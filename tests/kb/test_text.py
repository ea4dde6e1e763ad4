"""One analyzer reads text for index and question."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.senses import meant
from baylore_kb.terms import weighted
from baylore_kb.text import VERSION, Analyzer, word_grams
from baylore_kb.trade import load
from baylore_kb.values import Complaint

ANALYZER = Analyzer(load())
SNAPSHOT = Snapshot.build([])


def terms(text):
    return ANALYZER.analyze(text).terms


@pytest.mark.parametrize(
    "text", ["not cold", "doesn't get cold", "does not get cold", "isnt cold", "never gets cold"]
)
def test_a_negation_stays_with_its_word(text):
    assert "not_cold" in terms(text)
    assert "cold" not in terms(text)


def test_no_crank_is_read_the_same_however_it_is_said():
    assert {"not_crank"} <= set(terms("no crank")) & set(terms("won't crank")) & set(terms("doesn't crank"))


def test_a_negation_ends_with_its_sentence():
    assert "cold" in terms("does not start. cold in the cabin")


def test_an_abbreviation_is_kept_and_its_plain_words_stand_beside_it():
    assert {"ac", "air", "condit"} <= set(terms("A/C n/w"))


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("comp dead no click", "compressor"),
        ("comp low on cyl 3, misfire", "compression"),
        ("gas smell near the tank", "petrol"),
        ("low on gas, needs regas", "refrigerant"),
    ],
)
def test_an_abbreviation_is_read_by_its_neighbours(text, plain):
    assert plain in {expansion.plain for expansion in ANALYZER.analyze(text).expansions}


def test_an_everyday_word_is_not_taken_for_an_abbreviation():
    assert not ANALYZER.analyze("can you look at it, door was open, at no time").expansions


def test_pairs_of_neighbours_are_terms_and_read_as_written():
    analysis = ANALYZER.analyze("Heated screen on")
    assert analysis.shown["heat screen"] == "heated screen"


def test_cooling_and_cold_share_a_term():
    assert "=cold" in set(terms("cools")) & set(terms("cold"))


def test_grams_never_cross_the_edge_of_a_word():
    assert word_grams("ac") == (" ac", "ac ", " ac ")


def test_empty_text_has_no_terms():
    assert ANALYZER.analyze("") == ANALYZER.analyze(" \n\t")


@given(st.text(max_size=300))
def test_any_text_is_read_and_read_the_same_again(text):
    analysis = ANALYZER.analyze(text)
    assert analysis == ANALYZER.analyze(text)
    assert set(analysis.shown) == set(analysis.terms)


@given(
    st.lists(
        st.sampled_from(
            ["AC", "comp", "cold", "hot", "not", "no", "clutch", "P0301", "12.1V", "68psi", "gas"]
        ),
        max_size=12,
    )
)
def test_index_and_question_read_alike(words):
    snapshot = SNAPSHOT
    text = " ".join(words)
    assert understand(Complaint(text), snapshot).analysis == snapshot.analyzer.analyze(text)
    assert snapshot.analyzer.version == VERSION


@pytest.mark.parametrize(
    ("form", "plain", "meaning"),
    [
        ("LH", "left hand, right hand, seen from the seat", "left hand"),
        ("r/h", "left hand, right hand, seen from the seat", "right hand"),
        ("w/o", "with, without, complete with", "without"),
        ("rr", "front, forward, rear", "rear"),
        ("YMM", "year, make, model", "year, make, model"),
    ],
)
def test_of_a_term_with_several_meanings_the_form_takes_its_own(form, plain, meaning):
    assert meant(form, plain) == meaning


def test_a_negated_word_counts_as_the_word_and_beside_it_as_its_negation():
    said = weighted(ANALYZER.analyze("heater does not get warm"))
    assert said["heater"] == said["warm"] == 1.0
    assert 0.0 < said["not_warm"] < 1.0


def test_words_read_into_a_text_weigh_less_than_its_own_and_pairs_nothing():
    said = weighted(ANALYZER.analyze("A/C dead"))
    assert 0.0 < said["condit"] < said["ac"] == 1.0
    assert not any(" " in term for term in said)
    assert weighted(ANALYZER.analyze("")) == {}
