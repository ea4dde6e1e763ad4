"""Questions for the phone, before the car is seen."""

from __future__ import annotations

import math
import random

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.kb.invented_shop import empty_shop

from baylore_kb.calls import questions
from baylore_kb.calls.chances import WORDINGS, askables_of, bits
from baylore_kb.calls.wordings import UNSAFE
from baylore_kb.causes import beliefs_of, posterior
from baylore_kb.conditions import SHOWS_WHEN
from baylore_kb.plan.warnings import NOT_TO_DRIVE
from baylore_kb.question import understand
from baylore_kb.values import Complaint, Reading, RepairTried, TestDone

EMPTY = empty_shop()
TRADE = EMPTY.trade
BELIEFS = beliefs_of(TRADE)


def asked(text="", **more):
    question = understand(Complaint(text, **more), EMPTY)
    return questions(question, posterior(question, (), EMPTY))


def causes_of(text="", **more):
    return posterior(understand(Complaint(text, **more), EMPTY), (), EMPTY)


def words(found):
    return {each.question for each in found}


def answer(found, title):
    return next(one for each in found for one in each.answers if one.title == title)


@pytest.mark.parametrize(
    "text",
    [
        "won't start sometimes",
        "sometimes it does not start",
        "intermittent no start",
        "wont always start, now and then",
    ],
)
def test_wont_start_sometimes_asks_hot_or_cold_click_or_silence_and_whether_the_lamps_go_dim(text):
    assert words(asked(text)) == {
        "Hot or cold?",
        "Click or silence when you turn the key?",
        "Do the lamps go dim while you turn the key?",
    }


def test_an_answer_carries_what_tapping_it_adds():
    found = asked("won't start sometimes")
    assert answer(found, "Silence").symptom == "no_crank_silent"
    assert answer(found, "Only hot").condition == "hot"
    assert (answer(found, "No difference").symptom, answer(found, "No difference").condition) == (None, None)


@pytest.mark.parametrize(
    "text", ["won't start sometimes", "noise from the engine", "ac not cold", "overheats"]
)
def test_no_difference_speaks_for_no_cause(text):
    for each in asked(text, comes_and_goes=True):
        assert "No difference:" not in each.why
        assert "Both:" not in each.why


def test_an_answer_that_was_tapped_is_not_asked_again():
    found = asked("won't start sometimes", symptoms=("no_crank_click",), shows_when=("hot",))
    assert "Click or silence when you turn the key?" not in words(found)
    assert "Hot or cold?" not in words(found)


def test_a_condition_said_in_the_words_is_not_asked_again():
    assert "Hot or cold?" in words(asked("won't start sometimes"))
    assert "Hot or cold?" not in words(asked("won't start sometimes when hot"))


def test_the_lamps_part_the_supply_from_the_starter_after_a_click():
    why = next(each.why for each in asked("just clicks") if each.question.startswith("Do the lamps"))
    assert "They go dim or out: Battery" in why and "They stay bright: Solenoid" in why


@pytest.mark.parametrize("text", ["turns over but won't fire", "cranks normally, does not start"])
def test_who_says_that_it_turns_over_is_not_asked_for_clicks_or_lamps(text):
    assert not {each for each in words(asked(text)) if "key" in each}


@pytest.mark.parametrize(("text", "open"), [("it smokes", True), ("blue smoke on overrun", False)])
def test_a_colour_is_asked_for_only_while_none_was_named(text, open):
    assert ("What colour is the smoke?" in words(asked(text))) is open


def test_a_pedal_complaint_says_when_not_to_drive():
    found = asked("brakes feel bad")
    assert "How does the brake pedal feel?" in words(found)
    assert any("Not to be driven if: Yes" in each.why for each in found)


@pytest.mark.parametrize(
    "more",
    [
        {"tests": (TestDone("batt_rest_check", "ok"),)},
        {"readings": (Reading("batt_rest", 12.5, "V"),)},
        {"repairs": (RepairTried("starting.starter.worn", "no change"),)},
    ],
)
def test_nothing_is_asked_once_the_car_was_looked_at(more):
    assert asked("won't start sometimes", **more) == ()


@pytest.mark.parametrize("text", ["", "mostly on a tuesday"])
def test_nothing_is_asked_where_nothing_was_understood(text):
    assert asked(text) == ()


def test_the_worded_questions_name_listed_symptoms_and_conditions():
    said = [one for wording in WORDINGS for one in wording.answers]
    assert {one.symptom for one in said if one.symptom} <= set(TRADE.symptoms)
    assert {id for one in said for id in one.shows} <= set(TRADE.symptoms)
    assert {one.condition for one in said if one.condition} <= set(SHOWS_WHEN)
    assert len({wording.question for wording in WORDINGS}) == len(WORDINGS)


def test_what_is_asked_as_a_danger_is_warned_of_once_it_is_said():
    assert UNSAFE <= NOT_TO_DRIVE


def test_every_question_has_one_answer_whatever_the_cause():
    for each in askables_of(BELIEFS):
        assert np.allclose(each.rows.sum(axis=0), 1.0) and (each.rows > 0).all(), each.wording.question
        assert np.allclose(each.noise, bits(each.rows))


def test_an_even_coin_is_one_bit():
    assert bits(np.array([[0.5, 1.0], [0.5, 0.0]])) == pytest.approx([1.0, 0.0])


def answered(found, cause, chance):
    """The symptoms and conditions a customer adds whose car has the cause, one answer to each question."""
    rows = {each.wording.question: each.rows[:, BELIEFS.cause_at[cause]] for each in askables_of(BELIEFS)}
    worded = [each for each in found if each.question in rows]
    said = [chance.choices(each.answers, rows[each.question])[0] for each in worded]
    return {
        "symptoms": tuple(dict.fromkeys(one.symptom for one in said if one.symptom)),
        "shows_when": tuple(one.condition for one in said if one.condition),
    }


def test_answers_make_the_true_cause_likelier_on_the_whole():
    chance, gained = random.Random(11), []
    for cause in chance.choices([*TRADE.causes], [each.weight for each in TRADE.causes.values()], k=40):
        text = chance.choice(TRADE.symptoms[TRADE.causes[cause].symptoms[0]].said_by_customer)
        more = answered(asked(text), cause, chance)
        before, after = (causes_of(text), causes_of(text, **more))
        gained.append(math.log2(after.chance(cause) / before.chance(cause)))
    assert sum(gained) / len(gained) > 0.05


@given(
    symptoms=st.lists(st.sampled_from([*TRADE.symptoms]), max_size=3, unique=True),
    shows_when=st.lists(st.sampled_from([*SHOWS_WHEN]), max_size=2, unique=True),
    hides=st.booleans(),
)
def test_at_most_three_different_questions_with_two_answers_or_more(symptoms, shows_when, hides):
    found = asked(symptoms=tuple(symptoms), shows_when=tuple(shows_when), comes_and_goes=hides)
    assert len(words(found)) == len(found) <= 3
    for each in found:
        assert len({one.title for one in each.answers}) == len(each.answers) >= 2
        assert each.why and not {one.symptom for one in each.answers if one.symptom} & set(symptoms)
        assert not {one.condition for one in each.answers} & set(shows_when)


@given(st.sampled_from([*TRADE.symptoms]))
def test_every_symptom_can_be_asked_about_as_its_title(symptom):
    assert all(each.answers for each in asked(TRADE.symptoms[symptom].title))
