"""Readings with a condition unsaid: what is needed, what holds meanwhile, what holds anyway."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.readings import judge
from baylore_kb.trade import load
from baylore_kb.values import Reading

TRADE = load()


def judged(quantity, value, unit, **conditions):
    return judge(Reading(quantity, value, unit, conditions=conditions), TRADE)


def test_an_unsaid_air_temperature_leaves_the_widest_range_and_the_verdict_by_temperature():
    found = judged("ac_static", 390, "kPa", refrigerant="R134a")
    assert (found.verdict, found.needs) == ("unknown", ("ambient_c",))
    assert found.expected.low < 100 and found.expected.high > 1000
    assert "liquid present at 11 to 19 °C, low at 20 to 45 °C" in found.why


def test_a_verdict_that_holds_for_either_refrigerant_is_given_at_once():
    found = judged("ac_static", 390, "kPa", ambient_c=15)
    assert (found.verdict, found.good, found.needs) == ("liquid_present", True, ("refrigerant",))
    assert "for any refrigerant R134a or R1234yf" in found.why
    assert "says nothing about how much" in found.why


def test_a_verdict_that_hangs_on_the_unsaid_one_is_not_given():
    at_the_edge = judged("ac_static", 330, "kPa", ambient_c=15)
    assert (at_the_edge.verdict, at_the_edge.good) == ("unknown", None)
    assert "liquid present at r134a, low at r1234yf" in at_the_edge.why


def test_several_unsaid_conditions_are_all_asked_for():
    found = judged("ac_static", 390, "kPa")
    assert found.needs == ("ambient_c", "refrigerant")
    assert "air temperature" in found.why and "refrigerant type" in found.why


def test_an_empty_system_is_empty_in_any_weather():
    assert judged("ac_static", 0, "kPa").verdict == "empty"


def test_the_widest_range_comes_in_the_unit_typed():
    found = judged("ac_static", 56, "psi", refrigerant="R134a")
    assert found.expected.unit == "psi"
    assert found.expected.high == pytest.approx(1119 / 6.894757, rel=1e-3)


def test_a_refrigerant_nobody_here_knows_is_not_replaced_by_the_usual_ones():
    found = judged("ac_static", 390, "kPa", ambient_c=15, refrigerant="R12")
    assert (found.verdict, found.expected) == ("unknown", None)


def test_an_odd_condition_that_fits_another_unit_is_asked_about():
    found = judged("ac_static", 390, "kPa", ambient_c=95, refrigerant="R134a")
    assert "Is the ambient 95 °C, or 95 °F?" in found.why
    assert "or 68" not in judged("batt_rest", 12.6, "V", battery_temp_c=20).why


CONDITIONS = {"ambient_c": st.floats(-10, 45), "refrigerant": st.sampled_from(["R134a", "R1234yf"])}


@given(st.floats(-50, 1500), st.fixed_dictionaries(CONDITIONS), st.sampled_from(sorted(CONDITIONS)))
def test_what_holds_unsaid_holds_whatever_is_said(pressure, conditions, unsaid):
    rest = {name: value for name, value in conditions.items() if name != unsaid}
    before, after = (
        judged("ac_static", pressure, "kPa", **rest),
        judged("ac_static", pressure, "kPa", **conditions),
    )
    assert before.verdict in ("unknown", after.verdict)
    assert before.expected.low - 0.1 <= after.expected.low <= after.expected.high <= before.expected.high + 1
