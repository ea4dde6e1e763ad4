"""The one next step: proof before parts, giving away, short reasons, and set-ups in a sensible order."""

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.kb.invented_shop import empty_shop
from tests.kb.made_trade import made_trade

from baylore_kb import Complaint, Snapshot, advise
from baylore_kb.plan.driven import load_check
from baylore_kb.plan.places import RECONNECT_MIN, RELEARN_MIN, disconnects, needs_memory, setup_minutes
from baylore_kb.trade import load
from baylore_kb.trade.model import LikelihoodRow, Outcome, VehicleState
from baylore_kb.values import Objected, PartTried, RepairTried, Skipped, Terms, TestDone

TRADE = load()
EMPTY = empty_shop()
DEAD = Complaint("", symptoms=("dead",))
MISFIRE = Complaint("", symptoms=("misfire_load",), codes=("P0303",))


def ask(complaint, *tests, shop=EMPTY, terms=None, **more):
    done = tuple(TestDone(*test.split(":"), minutes=5) for test in tests)
    return advise(replace(complaint, tests=done, **more), shop, terms=terms)


def usual(test):
    """The outcome that a car without the test's faults shows most."""
    row = next(row for row in test.likelihood if not row.causes)
    return max(row.p, key=row.p.get)


def walk(symptom, steps=8, **more):
    """The tests asked for one after the other while each shows nothing wrong."""
    tests = []
    for _ in range(steps):
        answer = ask(Complaint("", symptoms=(symptom,)), *tests, **more)
        if answer.next.do != "test":
            break
        tests.append(f"{answer.next.test}:{usual(TRADE.tests[answer.next.test])}")
    return [test.split(":")[0] for test in tests]


def shop_with(trade):
    return Snapshot.build([], trade=trade)


def all_but(*tests):
    return tuple(Skipped(test, "no access") for test in TRADE.tests if test not in tests)


def likely_part(price, system="box"):
    """Lists of a likely part of this price, quickly fitted, a rival, and one test of 15 minutes between."""
    trade = made_trade(2, 1)
    part, rival = trade.causes.values()
    part = replace(part, weight=8.0, part_price=price, labour_low_h=0.1, labour_high_h=0.1, system=system)
    rival = replace(
        rival, weight=1.0, part_price=10.0, labour_low_h=0.2, labour_high_h=0.2, confirm_test="t0"
    )
    rows = [("part", (part.id,), 0.9), ("anything else", (), 0.1)]
    test = replace(
        trade.tests["t0"],
        state=VehicleState("off", raised=False, battery="connected", wheels="on"),
        setup_min=0.0,
        do_min=15.0,
        outcomes=(Outcome("bad", "bad", None, False), Outcome("good", "good", None, False)),
        likelihood=tuple(LikelihoodRow(name, named, {"bad": p, "good": 1 - p}) for name, named, p in rows),
    )
    return shop_with(replace(trade, causes={part.id: part, rival.id: rival}, tests={"t0": test}))


def test_a_part_dearer_than_its_proof_is_confirmed_before_it_is_bought():
    step = ask(DEAD, shop=likely_part(price=40.0)).next
    assert (step.do, step.test, step.cause) == ("test", "t0", "box.part0.worn")
    assert step.why.startswith("Confirm before buying: Part 0 worn.")
    assert "its part costs about 40 USD" in step.why


def test_a_part_cheaper_than_any_proof_is_simply_replaced():
    step = ask(DEAD, shop=likely_part(price=10.0)).next
    assert (step.do, step.cause) == ("replace", "box.part0.worn")


def test_a_part_is_bought_once_its_proof_spoke_for_it():
    step = ask(DEAD, "t0:bad", shop=likely_part(price=40.0)).next
    assert (step.do, step.cause) == ("replace", "box.part0.worn")
    assert "proved" in step.why


def test_a_part_whose_proof_cannot_be_done_here_is_replaced_unproved():
    step = ask(DEAD, shop=likely_part(price=40.0), skipped=(Skipped("t0", "no access"),)).next
    assert (step.do, step.cause) == ("replace", "box.part0.worn")


def test_a_part_of_a_safety_system_is_proved_however_cheap_it_is():
    shop = likely_part(price=1.0, system="steering")
    step = ask(DEAD, shop=shop).next
    assert (step.do, step.test) == ("test", "t0") and step.why.startswith("Safety: prove before any part")
    barred = ask(DEAD, shop=shop, terms=Terms(rights_needed=(("t0", "the steering card"),))).next
    assert barred.do == "refer" and "needs the steering card" in barred.why


def test_a_direct_confirmation_is_enough_and_is_not_asked_twice():
    answer = ask(MISFIRE, "mf_counters:one", "coil_swap:followed")
    assert (answer.next.do, answer.next.cause) == ("replace", "ignition.coil.weak")
    assert "proved" in answer.next.why


@pytest.mark.parametrize("system", ["brakes", "abs_stab", "steering", "restraint", "hv", "tyres"])
def test_no_part_of_a_safety_system_is_replaced_unproved(system):
    for symptom in (known for known in TRADE.symptoms.values() if known.systems[0] == system):
        step = ask(Complaint("", symptoms=(symptom.id,)), terms=Terms(rate_per_hour=500.0)).next
        assert step.do != "replace" or TRADE.causes[step.cause].system != system


def test_a_safety_part_that_cannot_be_proved_here_is_referred_with_what_is_missing():
    bag = Complaint("", symptoms=("srs_lamp",))
    step = ask(bag, terms=Terms(rights_needed=(("restraint", "restraint course"),))).next
    assert step.do in ("refer", "test") and (
        step.test is None or TRADE.tests[step.test].system != "restraint"
    )
    if step.do == "refer":
        assert "needs the restraint course" in step.why


def test_giving_away_names_the_missing_right_and_the_cost():
    terms = Terms(currency="EUR", rights_needed=(("aircon", "refrigerant certificate"),))
    step = ask(Complaint("", symptoms=("ac_clutch_cycles",)), terms=terms).next
    assert step.do == "refer" and step.expected_cost > 0
    assert "needs the refrigerant certificate" in step.why
    assert f"about {step.expected_cost:.0f} EUR" in step.why


def test_after_long_work_without_a_likely_cause_the_job_is_given_away_and_says_so():
    stall = Complaint("", symptoms=("stall_hot",))
    tests = [
        "pump_current_check:ok",
        "fuel_pressure:ok",
        "crank_signal:ok",
        "module_supply:ok",
        "wiggle:none",
    ]
    step = ask(stall, *tests, minutes_spent=109.0).next
    assert step.do == "refer" and step.why.startswith("Nothing is likely after 109 minutes")


def test_a_dead_fan_module_asks_for_the_current_of_its_motor_first():
    assert load_check("cooling.fan_module.open", TRADE, done=()).id == "fan_direct"
    assert load_check("fuel.pump_module.open", TRADE, done=()).quantity == "pump_current"
    assert load_check("starting.starter.worn", TRADE, done=()) is None
    fan = Complaint("", symptoms=("fan_never",))
    done = TestDone("own_look", "burnt", part="cooling.fan_module.open")
    step = advise(replace(fan, tests=(done,)), EMPTY).next
    assert step.do == "replace" and TRADE.tests["fan_direct"].title in step.why


def test_a_repair_that_changed_nothing_is_not_proposed_again():
    first = next(
        answer.next
        for symptom in TRADE.symptoms
        if (answer := ask(Complaint("", symptoms=(symptom,)), skipped=all_but())).next.do == "replace"
    )
    symptom = TRADE.causes[first.cause].symptoms[0]
    for tried in (
        {"repairs": (RepairTried(first.cause, "no change"),)},
        {"objections": (Objected(first.cause, "already renewed"),)},
        {"parts": (PartTried(first.component, "maker", "no change"),)},
    ):
        again = ask(Complaint("", symptoms=(symptom,)), skipped=all_but(), **tried).next
        assert (again.do, again.cause) != ("replace", first.cause)


@settings(max_examples=25)
@given(st.sampled_from(sorted(TRADE.symptoms)), st.integers(1, 4), st.sampled_from([20.0, 95.0, 400.0]))
def test_reasons_are_short_enough_for_a_phone(symptom, skill, rate):
    answer = ask(Complaint("", symptoms=(symptom,)), skill=skill, terms=Terms(rate_per_hour=rate))
    lines = answer.next.why.split("\n")
    assert len(lines) <= 3 and len(lines[0]) <= 80
    assert all(row.why and "\n" not in row.why for row in answer.tests)


@settings(max_examples=15)
@given(st.sampled_from(sorted(TRADE.symptoms)))
def test_every_outcome_tells_the_first_causes_after_it(symptom):
    for row in ask(Complaint("", symptoms=(symptom,))).tests:
        for seen in row.outcomes:
            chances = [then.probability for then in seen.then]
            assert 1 <= len(chances) <= 3 and chances == sorted(chances, reverse=True)
            assert sum(chances) <= 1.001 and seen.then[0].cause == seen.then_cause


@settings(max_examples=4)
@given(st.sampled_from(sorted(TRADE.symptoms)))
def test_no_test_is_asked_for_twice_and_every_walk_ends(symptom):
    asked = walk(symptom, steps=30)
    assert len(asked) == len(set(asked)) < 30


@pytest.mark.parametrize("symptom", ["brake_judder", "clunk_bumps", "no_drive"])
def test_tests_on_the_lift_are_done_in_a_row_before_going_down(symptom):
    up = [TRADE.tests[test].state.raised for test in walk(symptom)]
    first = up.index(True)
    assert all(up[first : first + 3])
    assert sum(one and not other for one, other in pairwise(up)) <= 1


def _symptoms_of(test):
    named = (TRADE.causes[cause] for row in test.likelihood for cause in row.causes)
    return [cause.symptoms[0] for cause in named]


def test_live_data_come_before_a_disconnected_battery():
    off = (symptom for test in TRADE.tests.values() if disconnects(test) for symptom in _symptoms_of(test))
    for symptom in sorted(set(off))[::3]:
        answer = ask(Complaint("", symptoms=(symptom,)))
        step = answer.next.test
        if step and disconnects(TRADE.tests[step]):
            saved = next(row.saves for row in answer.tests if row.test == step)
            live = [row for row in answer.tests if row.allowed and needs_memory(TRADE.tests[row.test])]
            assert all(row.saves < saved / 2 for row in live)


def test_the_way_back_from_a_disconnected_battery_is_paid_for():
    off, live = TRADE.tests["bus_ohm"], TRADE.tests["scan_all"]
    assert setup_minutes(None, off) == off.setup_min + RECONNECT_MIN
    assert setup_minutes(off, live) == setup_minutes(None, live) + RELEARN_MIN
    assert setup_minutes(off, replace(off, id="other")) == 0.0


def test_a_cold_look_costs_a_wait_once_the_engine_has_run():
    cold, running = TRADE.tests["cool_pressure"], TRADE.tests["fan_command"]
    assert setup_minutes(None, cold) == cold.setup_min
    ran = replace(running, state=replace(running.state, key="engine running"))
    assert setup_minutes(ran, cold) > 15.0
    assert setup_minutes(running, cold, warm=False) < setup_minutes(running, cold, warm=True)


def test_a_shop_without_tests_is_told_what_to_replace_or_to_give_away():
    answer = advise(DEAD, shop_with(made_trade(5, 0)))
    assert answer.next.do in ("replace", "refer") and answer.tests == ()


def test_one_cause_alone_gets_a_step():
    answer = advise(DEAD, shop_with(made_trade(1, 2)))
    assert answer.next.do in ("replace", "test", "refer")


def test_an_own_cause_without_a_listed_repair_can_be_replaced():
    found = TestDone("pull_the_carpet", "wet", part="own.wet_joint")
    step = advise(replace(DEAD, tests=(found,)), shop_with(made_trade(4, 4))).next
    assert (step.do, step.cause, step.component) == ("replace", "own.wet_joint", None)
    assert step.expected_cost > 0.0


def test_all_tests_barred_leave_a_repair_or_a_referral_and_say_why():
    trade = made_trade(6, 8)
    barred = {"terms": Terms(rights_needed=(("box", "the box card"),))}
    answer = advise(DEAD, shop_with(trade), **barred)
    assert answer.next.do in ("replace", "refer")
    assert all(row.note == "needs the box card" for row in answer.tests)


@pytest.mark.parametrize("minutes", [0.0, 1e-9, 1e7])
def test_absurd_minutes_still_give_a_finite_plan(minutes):
    trade = made_trade(6, 6)
    odd = {id: replace(test, do_min=minutes, setup_min=minutes) for id, test in trade.tests.items()}
    answer = advise(DEAD, shop_with(replace(trade, tests=odd)))
    assert 0.0 <= answer.next.expected_cost < 1e9
    assert answer.next.do != "test" or minutes < 1.0


def test_an_outcome_that_cannot_be_breaks_nothing():
    trade = made_trade(6, 6)
    never = {
        id: replace(test, likelihood=tuple(map(_never, test.likelihood))) for id, test in trade.tests.items()
    }
    answer = advise(DEAD, shop_with(replace(trade, tests=never)))
    assert all(row.outcomes[-1].probability == pytest.approx(0.0, abs=1e-3) for row in answer.tests)


def _never(row):
    """The row with its last outcome impossible."""
    *others, last = row.p
    return replace(row, p={**{k: row.p[k] / (1.0 - row.p[last]) for k in others}, last: 0.0})


@settings(max_examples=10)
@given(st.integers(0, 30), st.integers(1, 9), st.integers(0, 9))
def test_any_lists_give_a_plan(seed, causes, tests):
    answer = advise(DEAD, shop_with(made_trade(causes, tests, seed=seed)))
    assert answer.next.do in ("test", "replace", "refer")
    assert answer.next.expected_cost >= 0.0
