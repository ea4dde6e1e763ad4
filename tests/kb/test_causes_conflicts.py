"""Evidence that does not fit together is told in words with a remedy, and evidence that fits is not."""

import random

import pytest
from tests.kb.causes_asked import ABS_LAMP, CABLE, CLICK, EMPTY, TRADE, after, past
from tests.kb.invented_shop import done as drawn

from baylore_kb.causes import posterior
from baylore_kb.question import understand
from baylore_kb.values import Complaint, Measure, Reading, TestDone

LOW, HIGH = TestDone("crank_v_test", "low"), TestDone("crank_v_test", "high")
PARTS = ("accessory.drain", "lock_actuator.worn")
COLD = {"battery_temp_c": Measure(9, "degC")}


def volts(value, unit="V", **more):
    return Reading("crank_v", value, unit, conditions=COLD, **more)


def test_two_outcomes_that_no_single_cause_explains_are_at_odds():
    found = after(LOW, TestDone("crank_drop_neg", "high"))
    assert [c.kind for c in found.conflicts] == ["outcome"]
    assert set(found.conflicts[0].steps) == {"crank_v_test", "crank_drop_neg"}
    assert "no single cause" in found.conflicts[0].text and "again" in found.conflicts[0].remedy


def test_an_outcome_at_odds_with_what_leads_by_everything_else_is_told():
    cases = [past(n, CABLE, chance=0.9) for n in range(6)]
    found = after(TestDone("crank_drop_neg", "ok"), matches=cases)
    assert found.causes[0].cause == CABLE
    assert found.conflicts[0].steps == ("crank_drop_neg",)
    assert TRADE.causes[CABLE].title in found.conflicts[0].text


def test_a_reading_that_says_otherwise_than_the_outcome_tapped_is_told():
    found = after(LOW, readings=(volts(12.3),))
    assert [(c.kind, c.steps) for c in found.conflicts] == [("reading", ("crank_v_test", "crank_v"))]
    assert "12.3 V" in found.conflicts[0].text


def test_a_reading_below_the_limit_does_not_go_with_ok():
    assert [c.kind for c in after(TestDone("crank_v_test", "ok"), readings=(volts(8.0),)).conflicts] == [
        "reading"
    ]


@pytest.mark.parametrize(
    "reading",
    [volts(12.4), volts(12400, "mV"), volts(8.0, when="after"), volts(126.0)],
    ids=["agrees", "agrees in mV", "after the correction", "implausible"],
)
def test_a_reading_that_agrees_or_cannot_tell_is_no_conflict(reading):
    assert after(HIGH, readings=(reading,)).conflicts == ()


def test_one_reading_that_agrees_excuses_another_at_another_point():
    both = (volts(8.0, point="starter"), volts(12.4, point="battery posts"))
    assert after(HIGH, readings=both).conflicts == ()


def test_a_test_that_changed_its_outcome_is_told_and_the_later_counts():
    found = after(LOW, HIGH)
    assert "the later counts" in found.conflicts[0].text
    assert found.causes == after(HIGH).causes


def test_a_test_that_showed_one_part_and_then_another_is_told():
    first, later = (TestDone("draw_fuse", "found", part=f"body_elec.{part}") for part in PARTS)
    found = after(first, later, complaint=Complaint("", symptoms=("batt_flat_overnight",)))
    assert "the later counts" in found.conflicts[0].text
    assert TRADE.causes[first.part].title in found.conflicts[0].text
    assert found.settled == later.part


def test_a_test_repeated_with_the_same_outcome_or_without_the_fault_is_no_conflict():
    away = TestDone("crank_v_test", "ok", fault_present=False)
    assert after(HIGH, HIGH).conflicts == () == after(away, HIGH).conflicts


def test_an_outcome_while_the_fault_is_away_is_at_odds_with_nothing():
    cases = [past(n, CABLE, chance=0.9) for n in range(6)]
    assert after(TestDone("crank_drop_neg", "ok", fault_present=False), matches=cases).conflicts == ()


def test_nothing_done_and_nothing_listed_is_no_conflict():
    assert after().conflicts == () == after(TestDone("pull_the_carpet", "wet"), complaint=ABS_LAMP).conflicts


def test_jobs_that_go_by_the_lists_hardly_ever_seem_at_odds():
    chance = random.Random(5)
    odd = sum(bool(of_one_cause(chance).conflicts) for _ in range(80))
    assert odd <= 6


def of_one_cause(chance):
    """A job on one cause: up to four fitting tests with outcomes drawn as the lists expect."""
    cause = chance.choice(list(TRADE.causes.values()))
    symptom = cause.symptoms[0]
    fitting = [test for test in TRADE.tests.values() if symptom in test.for_symptoms]
    fitting = fitting or [TRADE.tests[cause.confirm_test]]
    tests = [drawn(test, cause.id, chance) for test in chance.sample(fitting, min(4, len(fitting)))]
    asked = Complaint("", symptoms=(symptom,), tests=tuple(tests))
    return posterior(understand(asked, EMPTY), (), EMPTY)


def test_conflicts_are_the_same_however_the_tests_are_ordered():
    tests = [LOW, TestDone("crank_drop_neg", "high"), TestDone("batt_test", "ok")]
    steps = {frozenset(c.steps) for c in after(*tests, complaint=CLICK).conflicts}
    assert steps == {frozenset(c.steps) for c in after(*reversed(tests), complaint=CLICK).conflicts}
