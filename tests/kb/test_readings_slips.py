"""Slipped decimals and wrong units: asked about with the likely value, kept as typed."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.readings import judge
from baylore_kb.trade import load
from baylore_kb.values import Measure, Reading

TRADE = load()
GAS = {"ambient_c": 20, "refrigerant": "R134a"}

BEYOND = [
    ("batt_rest", 126, "V", {}, [Measure(12.6, "V")]),
    ("batt_rest", 85, "V", {}, [Measure(8.5, "V")]),
    ("ac_static", 470, "psi", GAS, [Measure(470, "kilopascal")]),
    ("ac_vent_temp", 84, "C", {"ambient_c": 30}, [Measure(8.4, "C")]),
    ("crank_v", 101, "V", {}, [Measure(10.1, "V")]),
    ("tyre_p", 2300, "kPa", {"placard_kpa": 230}, [Measure(230, "kPa")]),
]
ODD = [
    ("batt_rest", 1.26, "V", {}, "flat", Measure(12.6, "V")),
    ("ac_static", 68, "kPa", GAS, "empty", Measure(68, "psi")),
    ("ac_static", 4.7, "kPa", GAS, "empty", Measure(4.7, "bar")),
    ("ac_vent_temp", 45, "C", {"ambient_c": 30}, "not_cooling", Measure(45, "degF")),
    ("tyre_p", 32, "kPa", {"placard_kpa": 230}, "far_low", Measure(32, "psi")),
    ("charge_v", 1.42, "V", {}, "none", Measure(14.2, "V")),
    ("compression", 150, "kPa", {}, "low", Measure(150, "psi")),
    ("ref_5v", 0.49, "V", {}, "none", Measure(4.9, "V")),
]
NOT_ASKED = [
    ("key_off_draw", 300, "mA", {}),
    ("drop_gnd", 0.6, "V", {"load_a": 8}),
    ("can_ohm", 121, "ohm", {}),
    ("ac_vent_temp", 24, "C", {"ambient_c": 30}),
    ("batt_rest", 11.2, "V", {}),
    ("leakdown", 60, "%", {}),
    ("ltft", 24, "%", {}),
]


def judged(quantity, value, unit, conditions):
    return judge(Reading(quantity, value, unit, conditions=conditions), TRADE)


@pytest.mark.parametrize(("quantity", "value", "unit", "conditions", "meant"), BEYOND)
def test_a_value_beyond_reach_names_what_was_likely_meant(quantity, value, unit, conditions, meant):
    found = judged(quantity, value, unit, conditions)
    assert (found.verdict, found.reading.value, list(found.meant)) == ("implausible", value, meant)


@pytest.mark.parametrize(("quantity", "value", "unit", "conditions", "word", "meant"), ODD)
def test_a_possible_but_odd_value_is_asked_about_and_keeps_its_verdict(
    quantity, value, unit, conditions, word, meant
):
    found = judged(quantity, value, unit, conditions)
    assert (found.verdict, found.reading.value) == (word, value)
    assert meant in [
        Measure(each.value, {"kilopascal": "kPa"}.get(each.unit, each.unit)) for each in found.meant
    ]
    assert "Or did you mean" in found.why


@pytest.mark.parametrize(("quantity", "value", "unit", "conditions"), NOT_ASKED)
def test_what_a_real_fault_reads_is_not_asked_about(quantity, value, unit, conditions):
    found = judged(quantity, value, unit, conditions)
    assert (found.meant, "did you mean" in found.why) == ((), False)


@given(st.sampled_from(sorted(TRADE.quantities)), st.floats(0, 1), st.data())
def test_what_is_asked_about_would_be_an_expected_value(name, share, data):
    quantity = TRADE.quantities[name]
    unit = data.draw(st.sampled_from(quantity.accepted_units))
    value = quantity.hard_low + share * (quantity.hard_high - quantity.hard_low)
    found = judged(name, value, unit, {})
    for each in found.meant:
        assert judged(name, each.value, each.unit, {}).verdict != "implausible"
