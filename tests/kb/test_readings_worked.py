"""What follows from the readings of one case together."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.readings import derive, judge_all, outcome_of
from baylore_kb.trade import load
from baylore_kb.values import Measure, Reading

TRADE = load()


def read(quantity, value, unit, point="", **conditions):
    return Reading(quantity, value, unit, point, conditions=conditions)


def follow(*readings):
    return {one.reading.quantity: one for one in judge_all(readings, TRADE)[len(readings) :]}


def value(found, quantity):
    return found[quantity].reading.value


def test_pressure_and_pipe_give_subcooling_and_superheat():
    high = read("ac_high_run", 200, "psi", refrigerant="R134a", ambient_c=30)
    low = read("ac_low_run", 30, "psi")
    found = follow(high, read("ac_liquid_temp", 48, "C"), low, read("ac_suction_temp", 8, "C"))
    assert value(found, "ac_subcool") == pytest.approx(6.69, abs=0.01)
    assert value(found, "ac_superheat") == pytest.approx(6.58, abs=0.01)
    assert found["ac_subcool"].of == ("ac_high_run", "ac_liquid_temp")
    assert "200 psi" in found["ac_subcool"].why and "48 °C, R134a" in found["ac_subcool"].why


def test_superheat_rests_on_the_height_of_the_shop():
    pair = read("ac_suction_temp", 8, "C"), {"refrigerant": "R134a"}
    sea = follow(read("ac_low_run", 200, "kPa", **pair[1]), pair[0])
    high = follow(read("ac_low_run", 200, "kPa", altitude=Measure(5249, "ft"), **pair[1]), pair[0])
    assert value(high, "ac_superheat") > value(sea, "ac_superheat") + 1


def test_without_the_refrigerant_no_subcooling_is_worked_out():
    pair = read("ac_high_run", 1400, "kPa"), read("ac_liquid_temp", 48, "C")
    assert "ac_subcool" not in follow(*pair)


def test_a_measured_value_is_not_worked_out_again():
    pair = read("ac_high_run", 1400, "kPa", refrigerant="R134a"), read("ac_liquid_temp", 48, "C")
    assert "ac_subcool" not in follow(*pair, read("ac_subcool", 5, "delta_degC"))


def test_a_drop_and_its_current_give_the_resistance_behind_it():
    found = follow(read("drop_gnd", 300, "mV", load_a=8))
    assert value(found, "drop_ohm") == 37.5
    assert (found["drop_ohm"].good, found["drop_ohm"].expected.high) == (False, 12.5)


def test_a_cranking_drop_takes_the_measured_cranking_current():
    assert value(follow(read("drop_pos", 0.45, "V"), read("crank_a", 150, "A")), "drop_ohm") == 3.0
    assert "drop_ohm" not in follow(read("drop_pos", 0.45, "V"))


def test_a_fuse_that_alone_draws_too_much_is_evidence_for_the_whole_draw():
    loud = follow(read("fuse_mv", 2.5, "mV", fuse_rating_a=20))
    quiet = follow(read("fuse_mv", 0.1, "mV", fuse_rating_a=20))
    assert value(loud, "fuse_draw") == pytest.approx(739.6, abs=0.1)
    assert outcome_of(loud["key_off_draw"], TRADE.tests["draw_total"], TRADE) == "high"
    assert "key_off_draw" not in quiet and quiet["fuse_draw"].good


def test_a_draw_gives_the_hours_to_half_a_charge():
    found = follow(read("key_off_draw", 500, "mA"))
    assert (value(found, "flat_hours"), found["flat_hours"].good) == (60.0, False)
    assert "60 Ah (assumed), full (assumed)" in found["flat_hours"].why
    assert value(follow(read("key_off_draw", 50, "mA", battery_ah=90)), "flat_hours") == 900.0


def test_the_hours_start_from_the_charge_that_is_left():
    rest = read("batt_rest", 12.45, "V", battery_temp_c=26.6667)
    found = follow(read("key_off_draw", 500, "mA"), rest)
    assert value(found, "flat_hours") == pytest.approx(30, abs=0.1)
    assert value(found, "batt_soc") == pytest.approx(75, abs=0.1)


def test_the_charge_of_other_batteries_is_not_read_off_the_flooded_table():
    assert follow(read("batt_rest", 12.6, "V", battery_type="AGM")) == {}


def test_both_trims_of_a_bank_are_added():
    one = read("ltft", 12, "%", "bank 1"), read("stft", 5, "%", "bank 1")
    found = follow(*one, read("stft", -2, "%", "bank 2"))
    assert (value(found, "trim_total"), found["trim_total"].verdict) == (17.0, "lean_correct")
    assert found["trim_total"].reading.point == "bank 1"


def test_compressions_of_two_cylinders_show_how_uneven_they_are():
    found = follow(
        *(read("compression", psi, "psi", f"cyl {n}") for n, psi in enumerate((180, 175, 182, 120), 1))
    )
    assert value(found, "compression_spread") == pytest.approx(34.0659, abs=0.01)
    assert "lowest at cyl 4" in found["compression_spread"].why
    assert follow(read("compression", 180, "psi", "cyl 1")) == {}


def test_a_coil_draws_what_its_resistance_lets_through():
    assert value(follow(read("ac_clutch_ohm", 3.6, "ohm")), "coil_a") == 3.5
    assert "coil_a" not in follow(read("inj_ohm", 180000, "ohm", injector_type="piezo"))
    assert "coil_a" not in follow(read("sol_ohm", 0, "ohm"))


def test_a_condition_said_once_holds_for_the_whole_job():
    high = read("ac_high_run", 1500, "kPa", ambient=Measure(86, "F"), gas="R134a")
    pipe, vent, after = (
        read("ac_liquid_temp", 48, "C"),
        read("ac_vent_temp", 9, "C"),
        Reading("ac_vent_temp", 8, "C", when="after"),
    )
    judged = judge_all([pipe, high, vent, after], TRADE)
    assert [one.verdict for one in judged[:4]] == ["ok", "ok", "ok", "unknown"]
    assert judged[2].reading is vent and "ambient 30 °C" in judged[2].why


def test_what_changes_from_point_to_point_is_not_lent():
    judged = judge_all([read("drop_gnd", 0.3, "V", load_a=8), read("drop_feed", 0.3, "V")], TRADE)
    assert [one.of for one in judged[2:]] == [("drop_gnd",)]


def test_implausible_readings_and_other_moments_count_for_nothing():
    assert follow(read("drop_gnd", 300, "V", load_a=8)) == {}
    after = Reading("stft", 5, "%", when="after")
    assert "trim_total" not in follow(read("ltft", 12, "%"), after)


NUMBERS = ["load_a", "fuse_rating_a", "battery_ah", "altitude_m", "battery_temp_c", "engine_rpm", "ambient_c"]
SAID = st.dictionaries(st.sampled_from(NUMBERS), st.floats(-1e4, 1e4)) | st.dictionaries(
    st.sampled_from(["refrigerant", "battery_type", "engine_type"]),
    st.sampled_from(["R134a", "r12", "agm", ""]),
)
ANY = st.lists(
    st.tuples(st.sampled_from(sorted(TRADE.quantities)), st.floats(0, 1), SAID),
    max_size=8,
)


@given(ANY)
def test_any_readings_together_are_judged_in_step_and_never_break(drawn):
    readings = [_at(TRADE.quantities[name], share, said) for name, share, said in drawn]
    judged = judge_all(readings, TRADE)
    assert [one.reading for one in judged[: len(readings)]] == readings
    for one in judged[len(readings) :]:
        assert one.of and one.why.startswith("From ") and one.source
    assert derive(judged[: len(readings)], TRADE) == judged[len(readings) :]


@pytest.mark.parametrize("warmth", [-41.0, 61.0])
def test_a_battery_colder_or_hotter_than_the_table_is_judged_without_its_charge(warmth):
    (judged, *_) = judge_all([Reading("batt_rest", 12.6, "V", conditions={"battery_temp_c": warmth})], TRADE)
    assert "charged" not in judged.why


def _at(quantity, share, said):
    reach = quantity.hard_high - quantity.hard_low
    return Reading(quantity.id, quantity.hard_low + share * reach, quantity.unit, conditions=said)


def test_air_at_full_load_gives_the_volumetric_efficiency():
    said = {"engine_litres": 2.0, "engine_rpm": 6000, "ambient_c": 25}
    assert value(follow(read("maf_full", 95, "g/s", **said)), "vol_eff") == pytest.approx(80.24, abs=0.01)
    assert "vol_eff" not in follow(read("maf_full", 95, "g/s", engine_type="boosted", **said))
    assert "vol_eff" not in follow(read("maf_full", 95, "g/s"))
