"""Whole jobs through the front door."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.kb.invented_shop import empty_shop, shop_of

from baylore_kb import Complaint, Snapshot, advise
from baylore_kb.trade import load
from baylore_kb.tuning import Tuning
from baylore_kb.values import Case, Measure, PartTried, Reading, Terms, TestDone, Vehicle

TRADE = load()
EMPTY = empty_shop()
CLICK = Complaint("one click and nothing, mostly after a drive", symptoms=("no_crank_click",))


def ask(complaint, *tests, shop=EMPTY, **more):
    done = tuple(TestDone(*test.split(":"), minutes=5) for test in tests)
    return advise(replace(complaint, tests=done, **more), shop)


def total(answer):
    return sum(row.probability for row in answer.causes) + answer.unlisted


def chance(answer, cause):
    return next((row.probability for row in answer.causes if row.cause == cause), 0.0)


def test_one_click_and_no_crank_starts_with_a_four_minute_reading_not_a_starter():
    answer = ask(CLICK)
    assert (answer.next.do, answer.next.test) == ("test", "crank_v_test")
    assert answer.tests[0].minutes == 4.0
    assert answer.tests[0].saves > answer.tests[0].minutes


def test_after_a_healthy_cranking_voltage_the_ground_drop_comes_up():
    answer = ask(CLICK, "batt_rest_check:ok", "batt_test:ok", "crank_v_test:high")
    assert answer.next.test == "crank_drop_neg"
    assert {"batt_test", "crank_v_test"}.isdisjoint(row.test for row in answer.tests)


def test_a_high_ground_drop_leads_to_the_cable_not_the_famous_starter():
    tests = [
        "batt_rest_check:ok",
        "batt_test:ok",
        "crank_v_test:high",
        "crank_drop_pos:ok",
        "crank_drop_neg:high",
    ]
    answer = ask(CLICK, *tests)
    grounds = {"starting.ground_cable.high_resistance", "charging.ground_strap.corroded"}
    assert {row.cause for row in answer.causes[:2]} == grounds
    assert chance(answer, "starting.starter.worn") < 0.2


def test_a_cranking_voltage_written_as_a_reading_acts_like_its_test():
    reading = Reading("crank_v", 12.3, "V", conditions={"battery_temp_c": Measure(9, "degC")})
    answer = ask(CLICK, readings=(reading,))
    assert chance(answer, "charging.battery.weak") < 0.3 * chance(ask(CLICK), "charging.battery.weak")
    assert answer.readings[0].reading == reading


def test_after_the_fan_runs_on_command_the_famous_module_drops_and_it_says_why():
    fan = Complaint("fan never comes on, gets hot in traffic", symptoms=("fan_never",))
    before, after = ask(fan), ask(fan, "fan_command:runs")
    assert chance(after, "cooling.fan_module.open") < 0.3 * chance(before, "cooling.fan_module.open")
    assert TRADE.causes["cooling.fan_module.open"].title in after.next.why or after.next.do == "ask"


def test_a_wheel_sensor_is_proved_by_its_signal_before_it_is_replaced():
    said = "ABS light comes and goes, and the pedal buzzes just before I stop"
    abs_job = Complaint(said, symptoms=("abs_false", "abs_lamp"), codes=("C0035",))
    steps = ["scan_all:all_answer", "wheel_speeds:dead", "abs_wiggle:steady"]
    assert ask(abs_job, *steps[:2]).next.do == "test"
    assert ask(abs_job, *steps[:2]).next.cause == "abs_stab.sensor.no_signal"
    done = ask(abs_job, *steps, "ring_look:ok", "wss_signal:bad_both")
    assert (done.next.do, done.next.component) == ("replace", "abs_stab.sensor")


def test_a_coil_that_takes_its_misfire_along_is_replaced_without_more_testing():
    coil = Complaint("jerks uphill, light blinks", symptoms=("misfire_load", "cel_flash"), codes=("P0303",))
    answer = ask(coil, "mf_counters:one", "coil_swap:followed")
    assert (answer.next.do, answer.next.cause) == ("replace", "ignition.coil.weak")
    assert answer.next.expected_cost > 0


def test_a_gap_over_its_limit_confirms_the_clutch():
    warm = Complaint("cold for twenty minutes, then hot", symptoms=("cold_then_warm", "ac_clutch_dead"))
    answer = ask(warm, "ac_vent_check:hot", "ac_clutch_power:power_ok", "ac_clutch_gap_check:wide")
    assert (answer.next.do, answer.next.cause) == ("replace", "aircon.clutch.worn")


def test_a_cold_patch_points_at_the_radiator_after_a_thermostat_that_changed_nothing():
    hot = Complaint("gauge climbs on long hills when loaded", symptoms=("overheat_load",))
    fitted = (PartTried("cooling.thermostat", "aftermarket", "no change"),)
    answer = ask(hot, "block_gas:clean", "stat_warmup:ok", "rad_scan:patch", parts=fitted)
    assert answer.causes[0].cause == "cooling.radiator.blocked"
    assert chance(answer, "cooling.thermostat.stuck_closed") < 0.01


def test_a_vent_that_does_not_flow_is_the_vent_and_not_another_cap():
    fill = Complaint("takes ten minutes to fill", symptoms=("slow_fill", "cel_on"), codes=("P0446",))
    cap = (PartTried("emissions.cap", "aftermarket", "no change"),)
    answer = ask(fill, "evap_cap:ok", "purge_vacuum:ok", "evap_vent_command:blocked", parts=cap)
    assert answer.next.cause == "emissions.vent.stuck_closed"


def test_an_accessory_found_at_its_fuse_is_the_cause():
    flat = Complaint("flat if I leave it two days", symptoms=("batt_flat_overnight",))
    found = TestDone("draw_fuse", "found", part="body_elec.accessory.drain")
    answer = advise(replace(flat, tests=(found,)), EMPTY)
    assert (answer.next.do, answer.next.cause) == ("replace", "body_elec.accessory.drain")


def test_oil_in_the_plug_of_the_gearbox_beats_a_new_gearbox():
    bang = Complaint("bangs into gear and stays in third", symptoms=("harsh_shift", "gear_stuck"))
    answer = ask(bang, "atf_check:leak", "trans_plug_look:oil", "sol_check:ok", codes=("P0720",))
    assert answer.causes[0].cause == "transmission.connector.connector"


def test_a_blocked_battery_fan_spares_the_traction_battery():
    hybrid = Vehicle(engine="1.5 petrol hybrid")
    fan = Complaint("vacuum cleaner noise from the back", hybrid, symptoms=("hv_batt_fan", "hv_reduced"))
    answer = ask(fan, "hv_12v:ok", "cell_log:ok", "hv_fan_look:blocked")
    assert answer.causes[0].cause == "hv.battery_fan.blocked"
    assert chance(answer, "hv.battery_pack.weak") < 0.02


def test_nothing_likely_after_ninety_minutes_is_referred():
    stall = Complaint("died twice on the motorway", symptoms=("stall_hot",))
    tests = [
        "pump_current_check:ok",
        "fuel_pressure:ok",
        "crank_signal:ok",
        "module_supply:ok",
        "wiggle:none",
    ]
    assert ask(stall, *tests, minutes_spent=109.0).next.do == "refer"
    assert ask(stall, *tests, minutes_spent=50.0).next.do == "test"


def test_words_that_say_nothing_are_answered_with_a_question():
    answer = ask(Complaint("qwx zzgh"))
    assert answer.next.do == "ask"
    assert len({option.symptom for option in answer.next.options}) >= 3
    assert answer.unlisted > 0.3 and total(answer) == pytest.approx(1.0)


def test_a_member_without_the_certificate_is_never_sent_to_a_test_above_his_skill():
    bag = ask(Complaint("airbag light on", symptoms=("srs_lamp",)), skill=2)
    barred = [row for row in bag.tests if row.skill > 2]
    assert barred and not any(row.allowed for row in barred)
    assert bag.next.test not in {row.test for row in barred}


def test_a_restraint_test_shows_its_cautions_first():
    bag = ask(Complaint("airbag light on", symptoms=("srs_lamp",)))
    assert any("battery" in text.casefold() for text in bag.cautions)
    assert all(row.cautions for row in bag.tests if row.test == bag.next.test)


def test_brakes_are_never_answered_with_an_unproved_part():
    for symptom in ("pedal_sinks", "pedal_soft", "brake_drag", "brake_pull"):
        assert ask(Complaint("", symptoms=(symptom,))).next.do == "test"


def test_a_fault_that_comes_and_goes_is_told_to_be_reproduced():
    stall = Complaint("", symptoms=("stall_hot",), comes_and_goes=True)
    assert any("comes and goes" in text for text in ask(stall).cautions)


def test_a_red_lamp_complaint_warns_against_driving():
    assert ask(Complaint("", symptoms=("oil_lamp",))).cautions[0].startswith("Do not drive")


def test_the_shops_own_finding_outranks_the_lists_and_is_counted():
    wet = "own.wet_joint_under_sill"
    said = Complaint(
        "rear washer runs by itself when the heated screen is on", Vehicle(make="Tarrow", model="Linnet")
    )
    shop = shop_of(
        Case(f"c{n}", said, "closed", cause=wet, cause_title="Wet joint under the sill", verified=True)
        for n in range(3)
    )
    answer = ask(said, shop=shop)
    assert (answer.causes[0].cause, answer.causes[0].title) == (wet, "Wet joint under the sill")
    assert answer.causes[0].cases == 3
    without = advise(said, shop, leave_out=frozenset({"c0", "c1", "c2"}))
    assert chance(without, wet) == 0.0 and without.cases == ()


def test_what_the_shop_knows_of_parts_chooses_the_source():
    starter = Complaint("", symptoms=("no_crank_click",))
    fitted = [("aftermarket", "failed later", 90.0)] * 4 + [("maker", "cured", 150.0)] * 6
    cases = [
        Case(
            f"c{n}",
            replace(starter, parts=(PartTried("starting.starter", source, result, price),)),
            "closed",
            cause="starting.starter.worn",
            verified=True,
        )
        for n, (source, result, price) in enumerate(fitted)
    ]
    shop = shop_of(cases)
    tests = ["batt_test:ok", "crank_drop_pos:ok", "crank_drop_neg:ok", "start_signal_check:signal_no_turn"]
    answer = ask(starter, *tests, shop=shop)
    assert (answer.next.do, answer.next.part_source) == ("replace", "maker")


def test_dearer_labour_makes_a_test_save_no_more_minutes_but_the_way_dearer():
    cheap, dear = (advise(CLICK, EMPTY, terms=Terms(rate_per_hour=rate)) for rate in (60.0, 140.0))
    assert dear.next.expected_cost > cheap.next.expected_cost


def test_the_same_question_always_gets_the_same_answer():
    assert ask(CLICK, "crank_v_test:high") == ask(CLICK, "crank_v_test:high")


def test_ids_that_no_list_knows_are_passed_over():
    odd = Complaint(
        "one click, no crank",
        symptoms=("humming_of_the_spheres",),
        tests=(TestDone("pull_the_carpet", "wet", part="own.wet_joint"), TestDone("crank_v_test", "purple")),
        parts=(PartTried("starting.flux", "used", "no change"),),
    )
    answer = advise(odd, EMPTY)
    assert answer.causes[0].cause == "own.wet_joint"
    assert total(answer) == pytest.approx(1.0)


def test_a_snapshot_without_lists_is_answered_from_the_shipped_ones():
    answer = advise(Complaint("one click, no crank"), Snapshot.build([]))
    assert answer.causes and total(answer) == pytest.approx(1.0, abs=1e-3)


def test_a_surer_temperature_keeps_the_order_and_raises_the_first():
    sure = advise(CLICK, EMPTY, tuning=Tuning(temperature=0.7))
    plain = ask(CLICK)
    assert [row.cause for row in sure.causes[:5]] == [row.cause for row in plain.causes[:5]]
    assert sure.causes[0].probability > plain.causes[0].probability


@settings(max_examples=40, deadline=None)
@given(st.text(max_size=60), st.lists(st.sampled_from(sorted(TRADE.symptoms)), max_size=3, unique=True))
def test_any_words_and_symptoms_get_a_whole_answer(text, symptoms):
    answer = advise(Complaint(text, symptoms=tuple(symptoms)), EMPTY)
    assert total(answer) == pytest.approx(1.0, abs=1e-3)
    assert all(0 < row.probability < 1 for row in answer.causes) and 0 < answer.unlisted < 1
    assert answer.next.test is None or answer.next.test == answer.tests[0].test
    for row in answer.tests:
        assert sum(seen.probability for seen in row.outcomes) == pytest.approx(1.0, abs=0.01)
