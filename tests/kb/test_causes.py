"""What the words, cases, tests and parts do to the chances."""

import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.kb.causes_asked import EMPTY, TRADE, after, chances, past, row, total
from tests.kb.invented_shop import shop_of

from baylore_kb.causes import beliefs_of, posterior
from baylore_kb.causes.pool import as_count, new_share, tempered, unlisted_share
from baylore_kb.causes.prior import trade_prior
from baylore_kb.conditions import SHOWS_WHEN
from baylore_kb.question import understand
from baylore_kb.values import Case, Complaint, PartTried, Reading, TestDone, Vehicle

WET = "own.wet_joint_behind_trim"


def test_a_clear_complaint_names_its_usual_causes_first():
    found = after()
    assert found.causes[0].cause == "starting.starter.worn"
    assert found.causes[0].from_words == "trade knowledge"
    assert total(found) == pytest.approx(1.0)


def test_nothing_heard_leaves_every_cause_open_and_much_unlisted():
    found = after(complaint=Complaint("xyzzy"))
    assert total(found) == pytest.approx(1.0)
    assert found.unlisted == pytest.approx(0.5)
    assert {row.system for row in found.causes} >= set(TRADE.systems)


def test_several_symptoms_are_explained_together():
    beliefs = beliefs_of(TRADE)
    alone = trade_prior(beliefs, [("no_comms", 0.9)]).shares[0]
    both = trade_prior(beliefs, [("no_comms", 0.9), ("many_lamps", 0.9)]).shares[0]
    at = beliefs.cause_at["network.can_bus.short"]
    assert both[at] > alone[at]


def test_a_cause_that_needs_what_the_car_has_not_is_out():
    chances = trade_prior(beliefs_of(TRADE), [("hv_not_ready", 0.9)], absent={"high_voltage"})
    assert chances.shares[0][beliefs_of(TRADE).cause_at["hv.contactor.stuck"]] == 0.0


def test_verified_past_cases_speak_louder_than_unverified_ones():
    cable = "starting.ground_cable.high_resistance"
    sure = after(matches=[past(1, cable), past(2, cable)])
    unsure = after(matches=[past(1, cable, verified=False), past(2, cable, verified=False)])
    assert sure.chance(cable) > unsure.chance(cable) > after().chance(cable)
    assert next(row for row in sure.causes if row.cause == cable).from_words == "2 of your cases"


def test_the_shops_own_causes_are_answered_with_their_words():
    found = after(matches=[past(1, WET, cause_title="Wet joint behind trim", cause_system="network")])
    row = next(row for row in found.causes if row.cause == WET)
    assert (row.title, row.system, row.cases) == ("Wet joint behind trim", "network", 1)
    assert row.probability > 0.3


def test_a_healthy_cranking_voltage_clears_the_battery():
    found = after(TestDone("crank_v_test", "high"))
    assert found.chance("charging.battery.weak") < 0.1 * after().chance("charging.battery.weak")


def test_a_test_done_twice_counts_once_the_later():
    twice = after(TestDone("crank_drop_neg", "ok"), TestDone("crank_drop_neg", "high"))
    once = after(TestDone("crank_drop_neg", "high"))
    assert twice.causes == once.causes


def test_an_ok_while_the_fault_is_away_proves_almost_nothing():
    pump = Complaint("", symptoms=("stall_hot",))
    before = after(complaint=pump).chance("fuel.pump.open")
    present = after(TestDone("fuel_pressure", "ok"), complaint=pump).chance("fuel.pump.open")
    away = after(TestDone("fuel_pressure", "ok", fault_present=False), complaint=pump).chance(
        "fuel.pump.open"
    )
    mixed = after(TestDone("fuel_pressure", "ok"), complaint=pump, comes_and_goes=True).chance(
        "fuel.pump.open"
    )
    assert present < 0.5 * before
    assert 0.8 * before < away
    assert present < mixed < away


def test_an_outcome_that_shows_the_part_settles_it():
    drain = Complaint("", symptoms=("batt_flat_overnight",))
    found = after(TestDone("draw_fuse", "found", part="body_elec.accessory.drain"), complaint=drain)
    assert found.settled == found.causes[0].cause == "body_elec.accessory.drain"
    assert 0.9 < found.causes[0].probability < 1.0


@pytest.mark.parametrize("result", ["no change", "partly"])
def test_a_part_that_did_not_cure_pushes_its_cause_down(result):
    found = after(parts=[PartTried("starting.starter", "maker", result)])
    assert found.chance("starting.starter.worn") < 0.75 * after().chance("starting.starter.worn")


def test_a_cheap_copy_that_changed_nothing_says_less_than_the_makers_part():
    copy, maker = (
        after(parts=[PartTried("starting.starter", s, "no change")]) for s in ("aftermarket", "maker")
    )
    assert maker.chance("starting.starter.worn") < copy.chance("starting.starter.worn")


def test_a_famous_cause_that_falls_says_which_result_did_it():
    fan = Complaint("", symptoms=("fan_never",))
    found = after(TestDone("fan_command", "runs"), complaint=fan)
    fell = {row.cause: row for row in found.dropped}
    assert "cooling.fan_module.open" in fell
    assert fell["cooling.fan_module.open"].by.startswith(TRADE.tests["fan_command"].title)


def test_the_shops_own_outcomes_outweigh_the_lists_in_time():
    worn = "starting.starter.worn"
    said = Complaint("", tests=(TestDone("crank_v_test", "ok"),))
    cases = [Case(f"c{n}", said, "closed", cause=worn, verified=True) for n in range(30)]
    shop = shop_of(cases)
    asked = understand(Complaint("", symptoms=("no_crank_click",), tests=said.tests), shop)
    habit = posterior(asked, (), shop)
    assert habit.chance(worn) > posterior(asked, (), EMPTY).chance(worn)


def test_tests_of_one_circuit_say_less_together_than_apart():
    circuit = np.array([[True, False, True], [False, True, False], [True, False, True]])
    kept = np.array([[1.0, 1.0, 1.0], [1.0, 1.0, 0.0]])
    expected = np.array([[2**-0.5, 1.0, 2**-0.5], [1.0, 1.0, 0.0]])
    assert tempered(kept, circuit) == pytest.approx(expected)


def test_a_shop_of_unproven_cures_that_never_come_twice_still_leaves_a_chance_to_what_it_knows():
    once_each = [{f"own.{n}": 0.5} for n in range(400)]
    assert 0.7 < new_share(once_each, listed=()) < 1.0
    assert new_share(once_each, listed={f"own.{n}" for n in range(400)}) < 0.02


def test_the_unlisted_share_never_goes_below_five_in_a_hundred():
    assert unlisted_share(np.array([0.0, 2.0, 1000.0])).tolist() == [0.5, 0.25, 0.05]


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_a_likelier_match_never_counts_less(one, other):
    assert as_count(min(one, other)) <= as_count(max(one, other))


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 10_000), st.integers(0, 6))
def test_whatever_was_tested_the_chances_stay_chances(seed, count):
    chance = random.Random(seed)
    tests = [TRADE.tests[name] for name in chance.sample(sorted(TRADE.tests), count)]
    done = [TestDone(t.id, chance.choice(t.outcomes).id, fault_present=chance.random() < 0.8) for t in tests]
    symptom = chance.choice(sorted(TRADE.symptoms))
    found = after(*done, complaint=Complaint("", symptoms=(symptom,)), vehicle=Vehicle(engine="1.6 petrol"))
    chances = np.array([row.probability for row in found.causes])
    assert total(found) == pytest.approx(1.0)
    assert (chances > 0).all() and (chances < 1).all() and 0.05 <= found.unlisted < 1


def test_the_conditions_a_fault_shows_in_mildly_lift_the_causes_that_lean_to_them():
    misfire, damp = Complaint("", symptoms=("misfire_load",)), "ignition.boot.high_resistance"
    plain, wet = (after(complaint=misfire, shows_when=when) for when in ((), ("rain", "no_such_condition")))
    told = next(m.factor for m in row(wet, damp).moved if m.by == f"Shows when: {SHOWS_WHEN['rain']}")
    assert 1.2 < told < 2.5 and wet.chance(damp) > plain.chance(damp)
    assert total(wet) == pytest.approx(1.0)


def test_a_finding_stays_strong_though_the_fault_comes_and_goes_and_an_ok_does_not():
    stall, pump = Complaint("", symptoms=("stall_hot",)), "fuel.pump_wiring.connector"
    before, good, weak = (
        after(*tests, complaint=stall, comes_and_goes=True).chance(pump)
        for tests in ((), (TestDone("fuel_pressure", "ok"),), (TestDone("fuel_pressure", "low"),))
    )
    assert 0.7 * before < good < before
    assert weak > 3.0 * before


def test_that_the_fault_was_not_seen_speaks_for_causes_that_come_and_go():
    stall, sensor = Complaint("", symptoms=("stall_hot",)), "ignition.ckp.no_signal"
    tests = [TestDone("verify_complaint", outcome) for outcome in ("seen", "not_seen")]
    seen, away = (after(test, complaint=stall).chance(sensor) for test in tests)
    assert seen < after(complaint=stall).chance(sensor) < away


def test_a_reading_that_a_test_done_by_hand_has_judged_does_not_count_again():
    by_hand, read = TestDone("crank_v_test", "high"), Reading("crank_v", 12.4, "V")
    assert chances(after(by_hand, readings=(read,))) == pytest.approx(chances(after(by_hand)))
    assert chances(after(readings=(read, read))) == pytest.approx(chances(after(readings=(read,))))
