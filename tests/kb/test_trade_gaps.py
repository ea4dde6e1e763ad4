"""Where the shipped lists leave a technician alone, and that the search for such places finds them."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.trade import load
from baylore_kb.trade.gaps import Alike, gaps, leading, offered_tests

TRADE = load()
ONE, OTHER = "lighting.bulb.open", "lighting.lamp_ground.corroded"


@pytest.fixture(scope="module")
def shipped():
    return gaps(TRADE)


def chances(test, *, one, other, rest):
    """The test with two outcomes and these chances of the first under two causes and anything else."""
    first, second = test.outcomes[:2]
    shown = [
        (name, causes, p) for name, causes, p in (("1", (ONE,), one), ("2", (OTHER,), other), ("r", (), rest))
    ]
    rows = tuple(
        replace(test.likelihood[0], name=name, causes=causes, p={first.id: p, second.id: 1.0 - p})
        for name, causes, p in shown
    )
    return replace(test, outcomes=(replace(first, names_part=False), second), likelihood=rows)


def small(*tests):
    """A trade of two causes, one symptom that both show as, and these tests."""
    causes = {id: replace(TRADE.causes[id], symptoms=("lamps_ghost",)) for id in (ONE, OTHER)}
    symptoms = {"lamps_ghost": TRADE.symptoms["lamps_ghost"]}
    return replace(TRADE, causes=causes, symptoms=symptoms, tests={test.id: test for test in tests})


LAMP = TRADE.tests["lamp_bulb"]


def test_every_listed_cause_can_be_confirmed_by_a_test_its_vehicle_can_have(shipped):
    assert shipped.unconfirmed == ()


def test_every_symptom_of_several_causes_has_a_test_that_parts_the_first_of_them(shipped):
    assert shipped.unsplit == ()


def test_no_two_leading_causes_stay_alike_under_every_test(shipped):
    assert shipped.alike == ()


def test_most_tests_are_the_first_choice_for_something(shipped):
    assert len(shipped.never_first) <= 0.15 * len(TRADE.tests)


def test_a_trade_without_tests_leaves_every_cause_unconfirmed_and_every_pair_alike():
    found = gaps(small())
    assert found.unconfirmed == (ONE, OTHER)
    assert found.unsplit == ("lamps_ghost",)
    assert found.alike == (Alike("lamps_ghost", ONE, OTHER),)


def test_a_part_seen_by_eye_is_told_apart_though_the_chances_are_the_same():
    blind = chances(LAMP, one=0.8, other=0.8, rest=0.1)
    seeing = replace(blind, outcomes=(replace(blind.outcomes[0], names_part=True), blind.outcomes[1]))
    assert gaps(small(blind)).alike
    assert not gaps(small(seeing)).alike


def test_a_test_that_needs_what_the_cause_does_not_promise_confirms_nothing():
    telling = chances(LAMP, one=0.9, other=0.9, rest=0.1)
    assert gaps(small(telling)).unconfirmed == ()
    assert gaps(small(replace(telling, only_if=("trailer",)))).unconfirmed == (ONE, OTHER)


def test_a_slower_twin_is_never_first():
    quick = chances(LAMP, one=0.9, other=0.2, rest=0.1)
    slow = replace(quick, id="slow", do_min=quick.do_min + 10)
    assert gaps(small(quick, slow)).never_first == ("slow",)


def test_a_test_with_more_skill_is_no_rival_of_one_anybody_may_do():
    plain = chances(LAMP, one=0.6, other=0.4, rest=0.5)
    skilled = replace(chances(LAMP, one=0.95, other=0.05, rest=0.5), id="skilled", skill=4)
    assert gaps(small(plain, skilled)).never_first == ()


def test_leading_causes_share_the_chance_likeliest_first():
    for symptom in TRADE.symptoms:
        shares = [share for _, share in leading(symptom, TRADE)]
        assert shares == sorted(shares, reverse=True)
        assert sum(shares) == pytest.approx(1.0)


def test_a_test_gated_by_symptoms_serves_only_those():
    tests = {test.id for test in offered_tests(TRADE.symptoms["no_cold_air"], TRADE)}
    assert "ac_vent_check" in tests
    assert not {"window_feed", "horn_feed", "latch_read"} & tests


@given(*[st.floats(0.02, 0.98) for _ in range(3)])
def test_causes_are_split_and_confirmed_just_when_the_odds_say_so(one, other, rest):
    found = gaps(small(chances(LAMP, one=one, other=other, rest=rest)))
    odds = [one / other, (1 - one) / (1 - other)]
    assert (found.unsplit == ()) == (max(*odds, *(1 / each for each in odds)) >= 2.0)
    assert (ONE in found.unconfirmed) == (one < 2 * rest and 1 - one < 2 * (1 - rest))
