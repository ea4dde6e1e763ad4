"""When a fault shows, and what that says of symptoms and causes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.conditions import (
    CONDITIONS_OF_WORD,
    SHOWS_WHEN,
    conditions_of,
    fit,
    in_their_light,
    leaning,
    opposites,
    said_in,
    shown_by,
)
from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.trade import load
from baylore_kb.values import Complaint

TRADE = load()
SOME = st.frozensets(st.sampled_from([*SHOWS_WHEN, "gremlins"]), max_size=5)


def test_every_condition_word_of_the_trade_is_known():
    words = {word for symptom in TRADE.symptoms.values() for word in symptom.conditions}
    assert words - set(CONDITIONS_OF_WORD) == set()


def test_every_condition_is_usual_for_some_symptom():
    shown = {id for symptom in TRADE.symptoms.values() for id in conditions_of(symptom)}
    assert shown == set(SHOWS_WHEN)


def test_any_says_nothing():
    assert conditions_of(TRADE.symptoms["cel_on"]) == frozenset()


@pytest.mark.parametrize(
    ("shows", "said", "better"),
    [({"hot"}, {"hot"}, True), ({"cold"}, {"hot"}, False), ({"idle"}, {"fast"}, False)],
)
def test_agreement_lifts_and_contradiction_lowers(shows, said, better):
    assert (fit(shows, said) > 1.0) is better and fit(shows, said) != 1.0


@pytest.mark.parametrize("shows", [set(), {"bumps"}, {"cold", "hot"}])
def test_what_says_nothing_of_hot_and_cold_stays_as_it_was(shows):
    assert fit(shows, {"hot"}) == 1.0


@given(shows=SOME, said=SOME)
def test_the_fit_is_mild_and_leaves_alone_what_is_not_said(shows, said):
    assert 0.4 <= fit(shows, said) <= 2.5
    assert fit(shows, ()) == fit((), said) == 1.0


@given(lean=st.dictionaries(st.sampled_from(list(SHOWS_WHEN)), st.floats(0.01, 1.0)))
def test_two_opposites_share_one_chance(lean):
    assert shown_by(lean, "hot") + shown_by(lean, "cold") == pytest.approx(1.0)
    assert all(0.0 < shown_by(lean, id) < 1.0 for id in SHOWS_WHEN)


def test_opposites_go_both_ways():
    assert all(id in opposites(other) for id in SHOWS_WHEN for other in opposites(id))


def test_a_cause_leans_where_its_symptoms_show():
    assert shown_by(leaning(TRADE.causes["ignition.ckp.no_signal"], TRADE), "hot") > 0.6
    assert shown_by(leaning(TRADE.causes["lighting.lamp_unit.water_entry"], TRADE), "rain") > 0.6
    assert shown_by(leaning(TRADE.causes["starting.relay.open"], TRADE), "hot") == 0.5


def test_a_tapped_symptom_stays_sure_and_a_heard_one_moves():
    heard = {"hard_start_hot": 0.4, "hard_start_cold": 0.4, "cranks_no_start": 1.0, "own.oddity": 0.3}
    after = in_their_light(heard, ["hot"], TRADE)
    assert after["hard_start_cold"] < 0.4 < after["hard_start_hot"]
    assert (after["cranks_no_start"], after["own.oddity"]) == (1.0, 0.3)


def test_conditions_given_sharpen_what_is_heard():
    empty = Snapshot.build(())
    said = Complaint("hard to start")
    plain = understand(said, empty).symptoms
    hot = understand(Complaint("hard to start", shows_when=("hot",)), empty).symptoms
    assert hot["hard_start_hot"] > plain["hard_start_hot"]
    assert hot["hard_start_cold"] < plain["hard_start_cold"]


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("cuts out when it's hot", {"hot"}),
        ("rattle over bumps, worse when turning", {"bumps", "turning"}),
        ("misfires in the rain", {"rain"}),
        ("blows hot air", set()),
        ("", set()),
    ],
)
def test_conditions_plainly_said_in_the_words_are_found(text, found):
    assert said_in(text) == found
