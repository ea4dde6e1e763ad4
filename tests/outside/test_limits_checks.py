"""Limits of working practice and public regulation, through the verdicts; sources are in limits.json."""

import json
from pathlib import Path

import pytest

from baylore_kb.readings import judge
from baylore_kb.trade import load
from baylore_kb.values import Reading

TRADE = load()
CASES = {
    case["id"]: case
    for case in json.loads((Path(__file__).parent / "limits.json").read_text(encoding="utf-8"))["cases"]
}
# The quantity a limit judges, in the limit's unit, under the conditions it names.
JUDGED = {
    "E-limit-1": ("charge_v", "V", {"battery_temp_c": 25}),
    "E-limit-3": ("crank_v", "V", {"battery_temp_c": 21}),
    "E-limit-4": ("ripple_ac", "V", {}),
    "E-limit-5": ("key_off_draw", "mA", {}),
    "E-limit-6": ("drop_pos", "V", {}),
    "E-limit-7": ("drop_neg", "V", {}),
    "E-limit-8": ("drop_gnd", "V", {}),
    "E-limit-9": ("drop_switch", "V", {}),
    "E-limit-10": ("drop_sensor_gnd", "V", {}),
    "E-limit-11": ("alt_drop", "V", {}),
    "E-limit-12": ("alt_drop_gnd", "V", {}),
    "E-limit-13": ("drop_feed", "V", {}),
    "E-limit-17": ("trim_total", "%", {}),
    "E-limit-19": ("maf_idle", "g/s", {"engine_litres": 1.0}),
    "E-limit-22": ("ac_superheat", "delta_degC", {}),
    "E-limit-23": ("ac_subcool", "delta_degC", {}),
    "E-limit-24": ("runout", "mm", {}),
}
EDGES = {
    "E-limit-15": ("leakdown", "%", "good", "worn"),
    "E-limit-16": ("leakdown", "%", "worn", "bad"),
    "E-limit-18": ("trim_total", "%", "lean_correct", "lean_fault"),
}


def judged(quantity, value, unit, **conditions):
    return judge(Reading(quantity, value, unit, conditions=conditions), TRADE)


@pytest.mark.parametrize("id_", JUDGED)
def test_a_reading_is_good_up_to_its_limit_and_not_beyond(id_):
    quantity, unit, conditions = JUDGED[id_]
    limits = CASES[id_]["expected"]
    for side, outward in (("min", -1), ("max", 1)):
        if limits[side] is None:
            continue
        step = 0.002 * abs(limits[side]) * outward
        assert judged(quantity, limits[side] - step, unit, **conditions).good
        assert judged(quantity, limits[side] + step, unit, **conditions).good is False


@pytest.mark.parametrize("id_", EDGES)
def test_a_boundary_parts_its_two_verdicts(id_):
    quantity, unit, under, over = EDGES[id_]
    limit = CASES[id_]["expected"]["max"]
    assert judged(quantity, limit * 0.99, unit).verdict == under
    assert judged(quantity, limit * 1.01, unit).verdict == over


def test_the_charging_voltage_falls_with_the_batterys_warmth():
    within = CASES["E-limit-2"]["expected"]
    warm, mild = (judged("charge_v", 14, "V", battery_temp_c=at).expected for at in (35, 25))
    assert within["min"] <= (warm.high - mild.high) * 1000 / 10 <= within["max"]


def test_compression_is_even_down_to_the_least_share():
    share = CASES["E-limit-14"]["expected"]["min"]
    assert judged("compression_spread", 100 * (1 - share), "%").good
    assert judged("compression_spread", 100 * (1 - share) + 1, "%").good is False


def test_full_load_air_follows_the_least_volumetric_efficiency():
    least, most = (CASES["E-limit-20"]["expected"][side] for side in ("min", "max"))
    full = {"engine_litres": 2.0, "engine_rpm": 6000, "ambient_c": 25}
    ideal = 118.39252
    assert judged("maf_full", ideal * least / 100 * 1.002, "g/s", **full).verdict == "ok"
    assert judged("maf_full", ideal * least / 100 * 0.998, "g/s", **full).verdict == "low"
    assert judged("vol_eff", most, "%").good and judged("vol_eff", least - 1, "%").verdict == "low"


@pytest.mark.parametrize("ambient", [25, 30, 35])
def test_vent_air_is_good_from_the_least_difference_on(ambient):
    least = CASES["E-limit-21"]["expected"]["min"]
    assert judged("ac_vent_temp", ambient - least, "C", ambient_c=ambient).good
    assert judged("ac_vent_temp", ambient - least + 0.5, "C", ambient_c=ambient).good is False


@pytest.mark.parametrize(("grade", "at"), [("DOT 3", 0), ("DOT 4", 1), ("DOT 5.1", 2)])
def test_brake_fluid_is_due_at_its_grades_wet_limit_and_good_when_fresh(grade, at):
    dry, wet = (CASES[id_]["expected"]["value"][at] for id_ in ("E-reg-1", "E-reg-2"))
    assert judged("fluid_boil", wet - 1, "C", fluid_grade=grade).verdict == "replace"
    assert judged("fluid_boil", dry, "C", fluid_grade=grade).good


def test_a_tyre_a_quarter_under_its_placard_is_far_low():
    (percent,) = CASES["E-reg-3"]["expected"]["value"]
    at = 230 * (1 - percent / 100)
    assert judged("tyre_p", at - 1, "kPa", placard_kpa=230).verdict == "far_low"
    assert judged("tyre_p", at + 1, "kPa", placard_kpa=230).verdict == "low"


def test_every_listed_limit_is_checked():
    elsewhere = {"E-limit-2", "E-limit-14", "E-limit-20", "E-limit-21", "E-reg-1", "E-reg-2", "E-reg-3"}
    assert CASES.keys() == JUDGED.keys() | EDGES.keys() | elsewhere
