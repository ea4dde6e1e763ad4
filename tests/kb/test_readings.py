"""Readings: verdict, range and reason under their conditions; slips are asked about."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.errors import NotAMeasure, UnitMismatch, UnknownQuantity, UnknownUnit
from baylore_kb.readings import judge, outcome_of, quantity_named
from baylore_kb.trade import load
from baylore_kb.units import convert
from baylore_kb.values import Measure, Reading

TRADE = load()
QUANTITIES = st.sampled_from(sorted(TRADE.quantities))


def read(quantity, value, unit, **conditions):
    return Reading(quantity, value, unit, conditions=conditions)


def judged(quantity, value, unit, **conditions):
    return judge(read(quantity, value, unit, **conditions), TRADE)


def test_static_pressure_at_mild_air_says_only_that_liquid_is_there():
    verdict = judged("ac_static", 390, "kPa", ambient_c=15, refrigerant="R134a")
    assert verdict.verdict == "liquid_present"
    assert verdict.good
    assert "says nothing about how much" in verdict.why


def test_the_same_static_pressure_in_the_heat_is_low():
    verdict = judged("ac_static", 390, "kPa", ambient=Measure(95, "F"), refrigerant="R-134a")
    assert (verdict.verdict, verdict.good) == ("low", False)


def test_static_pressure_is_judged_for_the_height_of_the_shop():
    high_up = judged("ac_static", 57, "psi", ambient=15, refrigerant="R134a", altitude=1600)
    at_sea = judged("ac_static", 57, "psi", ambient=15, refrigerant="R134a")
    assert high_up.expected.low > at_sea.expected.low
    assert "altitude 0 m (assumed)" in at_sea.why


def test_without_the_air_the_verdict_is_unknown_and_says_what_is_needed():
    verdict = judged("ac_static", 390, "kPa", refrigerant="R134a")
    assert (verdict.verdict, verdict.needs, verdict.good) == ("unknown", ("ambient_c",), None)


@pytest.mark.parametrize(("ambient", "refrigerant"), [(15, "R12"), (95, "R134a")])
def test_conditions_beyond_the_tables_make_the_verdict_unknown(ambient, refrigerant):
    verdict = judged("ac_static", 390, "kPa", ambient_c=ambient, refrigerant=refrigerant)
    assert verdict.verdict == "unknown"
    assert str(ambient) in verdict.why or refrigerant.casefold() in verdict.why


def test_rest_voltage_is_judged_at_the_temperature_of_the_battery():
    cold = judged("battery_open_circuit_voltage", 12.42, "V", temperature=Measure(-10, "degC"))
    warm = judged("battery_open_circuit_voltage", 12.42, "V", temperature=Measure(35, "degC"))
    assert (cold.verdict, warm.verdict) == ("low", "ok")


def test_an_assumed_condition_is_named_in_the_reason():
    assert "battery temp 25 °C (assumed)" in judged("batt_rest", 12.6, "V").why


def test_a_condition_nobody_knows_is_said_not_to_be_used():
    verdict = judged("batt_rest", 12.6, "V", temprature=Measure(-10, "degC"), engine_rpm=900)
    assert "no condition goes by that name: 'temprature'" in verdict.why
    assert "engine_rpm" not in verdict.why


def test_the_range_comes_in_the_unit_that_was_typed():
    verdict = judged("drop_gnd", 300, "mV", load_a=8)
    assert (verdict.expected.low, verdict.expected.high, verdict.expected.unit) == (None, 100.0, "mV")
    assert "37.5 mΩ" in verdict.why


SLIPS = [
    ("batt_rest", 126, "V", {}, "did you mean 12.6 V?"),
    ("batt_rest", -12.6, "V", {}, "did you mean 12.6 V?"),
    ("batt_rest", 12600, "V", {}, "did you mean 12600 mV?"),
    ("ac_static", 470, "psi", {"ambient_c": 20, "refrigerant": "R134a"}, "did you mean 470 kPa?"),
    ("ac_static", 470, "psi", {}, "did you mean 470 kPa?"),
    ("ac_vent_temp", 84, "C", {"ambient_c": 30}, "did you mean 8.4 °C?"),
    ("pad_mm", 60, "mm", {}, "did you mean 6 mm?"),
]


@pytest.mark.parametrize(("quantity", "value", "unit", "conditions", "question"), SLIPS)
def test_an_implausible_value_is_asked_about_and_kept(quantity, value, unit, conditions, question):
    verdict = judged(quantity, value, unit, **conditions)
    assert (verdict.verdict, verdict.good, verdict.reading.value) == ("implausible", None, value)
    assert verdict.why.endswith(question)


def test_a_resting_engine_should_read_the_air():
    assert judged("ect_data", 68, "F", rest_hours=10, ambient_c=20).good
    assert judged("ect_data", 68, "F", rest_hours=0).verdict == "cold"
    assert judged("ect_data", 68, "F", rest_hours=10).needs == ("ambient_c",)


def test_a_makers_figure_is_never_replaced_by_the_rough_range():
    verdict = judged("torque_wheel", 80, "ft-lb")
    assert verdict.good is None
    assert "the maker's figure decides" in verdict.why


def test_the_nearest_quantities_are_offered_for_a_wrong_name():
    with pytest.raises(UnknownQuantity) as refused:
        judged("batt_rest_volts", 12, "V")
    assert "batt_rest" in refused.value.remedy


def test_names_and_aliases_find_the_quantity_in_any_case():
    assert quantity_named(" Battery_Open_Circuit_Voltage ", TRADE).id == "batt_rest"


def test_bad_units_are_refused_naming_the_field():
    with pytest.raises(UnitMismatch) as refused:
        judged("batt_rest", 12, "kPa")
    assert refused.value.remedy.endswith("V, mV")
    with pytest.raises(UnknownUnit):
        judged("batt_rest", 12, "zork")
    with pytest.raises(UnitMismatch) as refused:
        judged("batt_rest", 12, "V", temperature=Measure(3, "kPa"))
    assert refused.value.field == "conditions.temperature"
    with pytest.raises(NotAMeasure):
        judged("batt_rest", math.nan, "V")


OUTCOMES = [
    ("batt_rest", 12.7, "V", "batt_rest_check", "ok"),
    ("batt_rest", 12100, "mV", "batt_rest_check", "low"),
    ("batt_rest", 11.2, "V", "batt_rest_check", "flat"),
    ("batt_rest", 112, "V", "batt_rest_check", None),
    ("can_ohm", 0.121, "kohm", "bus_ohm", "one_end"),
    ("can_ohm", 75, "ohm", "bus_ohm", None),
    ("drop_gnd", 0.4, "V", "batt_rest_check", None),
    ("ac_vent_temp", 12, "C", "ac_vent_check", None),
]


@pytest.mark.parametrize(("quantity", "value", "unit", "test", "outcome"), OUTCOMES)
def test_a_reading_decides_the_outcome_whose_rule_it_meets(quantity, value, unit, test, outcome):
    assert outcome_of(read(quantity, value, unit), TRADE.tests[test], TRADE) == outcome


def test_a_judged_reading_decides_like_the_reading():
    verdict = judged("batt_rest", 11.2, "V")
    assert outcome_of(verdict, TRADE.tests["batt_rest_check"], TRADE) == "flat"


@given(QUANTITIES, st.floats(0, 1))
def test_every_plausible_value_has_a_verdict_of_its_quantity(name, share):
    quantity = TRADE.quantities[name]
    value = quantity.hard_low + share * (quantity.hard_high - quantity.hard_low)
    verdict = judged(name, value, quantity.unit)
    assert verdict.verdict in {*quantity.verdicts, "unknown"}
    assert verdict.needs or verdict.verdict != "unknown"
    assert verdict.why and verdict.source


@given(QUANTITIES, st.floats(-10, 2000), st.data())
def test_the_verdict_does_not_depend_on_the_unit_typed(name, value, data):
    quantity = TRADE.quantities[name]
    unit = data.draw(st.sampled_from(quantity.accepted_units))
    typed = convert(value, quantity.unit, unit)
    back = convert(typed, unit, quantity.unit)
    assert judged(name, typed, unit).verdict == judged(name, back, quantity.unit).verdict
