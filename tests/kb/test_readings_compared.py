"""Readings of two cars: compared freed of their conditions, worked-out values before raw ones."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.readinglikeness import agreement
from baylore_kb.readings import judge, judge_all, similarity
from baylore_kb.trade import load
from baylore_kb.values import Reading

TRADE = load()
QUANTITIES = st.sampled_from(sorted(TRADE.quantities))


def read(quantity, value, unit, point="", **conditions):
    return Reading(quantity, value, unit, point, conditions=conditions)


def likened(*reading, **conditions):
    return judge(read(*reading, **conditions), TRADE).likened


def agree(one, other):
    return agreement(judge_all(one, TRADE), judge_all(other, TRADE), TRADE)


def test_static_pressures_are_compared_free_of_the_weather():
    full_cold = likened("ac_static", 390, "kPa", ambient_c=15, refrigerant="R134a")
    full_hot = likened("ac_static", 790, "kPa", ambient_c=35, refrigerant="R134a")
    empty_hot = likened("ac_static", 390, "kPa", ambient_c=35, refrigerant="R134a")
    assert similarity(full_cold, full_hot) == 1.0
    assert similarity(full_cold, empty_hot) < 0.01


def test_rest_voltages_are_compared_as_charge():
    found = likened("batt_rest", 12.24, "V", battery_temp_c=26.6667)
    assert (found.what, found.instrument) == ("state of charge", 5.0)
    assert found.value == pytest.approx(50, abs=0.1)


def test_what_cannot_be_judged_is_not_compared():
    assert likened("ac_static", 390, "kPa") is None
    assert likened("batt_rest", 126, "V") is None
    blind = [read("ac_high_run", 1400, "kPa")]
    assert agree(blind, blind).agree == 0


def test_two_cars_with_one_subcooling_agree_though_their_pressures_differ():
    mild = [
        read("ac_high_run", 1100, "kPa", refrigerant="R134a", ambient_c=22),
        read("ac_liquid_temp", 44.5, "C"),
    ]
    hot = [
        read("ac_high_run", 1800, "kPa", refrigerant="R134a", ambient_c=38),
        read("ac_liquid_temp", 63.7, "C"),
    ]
    found = agree(mild, hot)
    assert found.contradict == 0
    (words,) = found.words
    assert words.startswith("Refrigerant subcooling") and words.endswith("(low_charge)")


def test_a_bad_ground_is_the_same_bad_ground_at_another_current():
    lamp = [read("drop_gnd", 0.3, "V", load_a=8)]
    heater = [read("drop_gnd", 0.75, "V", load_a=20)]
    assert agree(lamp, heater).agree == pytest.approx(1.0)


def test_resistances_of_two_different_circuits_are_not_compared():
    ground, feed = [read("drop_gnd", 0.3, "V", load_a=8)], [read("drop_feed", 0.3, "V", load_a=8)]
    assert agree(ground, feed).agree == 0


def test_readings_after_the_correction_are_left_out():
    after = [Reading("batt_rest", 11.9, "V", when="after")]
    assert agree(after, [read("batt_rest", 11.9, "V")]) == agree([], [])


@given(QUANTITIES, st.floats(0, 1), st.floats(0, 1))
def test_similarity_is_symmetric_and_full_for_the_same_reading(name, one, other):
    quantity = TRADE.quantities[name]
    span = quantity.hard_high - quantity.hard_low
    a, b = (likened(name, quantity.hard_low + share * span, quantity.unit) for share in (one, other))
    if a is None or b is None:
        return
    assert similarity(a, a) == 1.0
    assert similarity(a, b) == similarity(b, a) <= 1.0
