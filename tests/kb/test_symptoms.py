"""Listed symptoms are heard in phrasings, mis-hearings and slips; nonsense is not."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.symptoms import MOST_HEARD, SymptomSpotter
from baylore_kb.text import Analyzer
from baylore_kb.trade import load

TRADE = load()
SPOTTER = SymptomSpotter(TRADE, Analyzer(TRADE))


def heard(text):
    return [each.symptom for each in SPOTTER.hear(text)]


@pytest.mark.parametrize(
    ("said", "symptom"),
    [
        ("one click, no crank", "no_crank_click"),
        ("ac cold then warm 20 min", "cold_then_warm"),
        ("rear washer runs by itself when the heated screen is on", "washer_fault"),
        ("battery flat every morning", "batt_flat_overnight"),
        ("comp dead no click", "ac_clutch_dead"),
        ("won't start sometimes", "cranks_no_start"),
        ("A sea in op", "no_cold_air"),
        ("no heat, gauge nomal", "heat_none"),
    ],
)
def test_a_symptom_is_heard_first(said, symptom):
    assert heard(said)[0] == symptom


@pytest.mark.parametrize(
    "said", ["", "the", "hello how are you today", "asdf qwer zxcv", "I like pizza with cheese"]
)
def test_nonsense_is_not_heard(said):
    assert heard(said) == []


def test_every_listed_phrase_is_heard_as_its_own_symptom_almost_always():
    asked = [(s.id, phrase) for s in TRADE.symptoms.values() for phrase in (*s.written_by_tech, s.title)]
    right = sum(id in heard(phrase)[:3] for id, phrase in asked)
    assert right >= 0.97 * len(asked)


@given(st.text(max_size=120))
def test_chances_are_chances_best_first_and_few(text):
    chances = [each.chance for each in SPOTTER.hear(text)]
    assert chances == sorted(chances, reverse=True)
    assert len(chances) <= MOST_HEARD
    assert all(0 < chance <= 1 for chance in chances)


def test_components_are_found_by_name_and_by_abbreviation():
    named = {each.component for each in SPOTTER.mentioned("wheel speed sensor dirty, comp clutch")}
    assert {"abs_stab.sensor", "aircon.compressor"} <= named


def test_a_longer_name_weighs_more():
    weights = {each.component: each.weight for each in SPOTTER.mentioned("wheel speed sensor")}
    assert max(weights, key=weights.get) == "abs_stab.sensor"
