"""One pressure is one pressure: psi, bar and kPa, gauge and absolute."""

from inspect import signature

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb import units
from baylore_kb.errors import UnitMismatch
from baylore_kb.readings import judge
from baylore_kb.trade import load
from baylore_kb.units import convert, is_absolute
from baylore_kb.values import Measure, Reading

TRADE = load()
GAS = {"ambient_c": 20, "refrigerant": "R134a"}


def judged(quantity, value, unit, **conditions):
    return judge(Reading(quantity, value, unit, conditions=conditions), TRADE)


@pytest.mark.parametrize(
    ("value", "unit"), [(68.17, "psi"), (4.7, "bar"), (470, "kPa"), (68.17, "psig"), (0.47, "MPa")]
)
def test_one_pressure_in_any_unit_is_one_number(value, unit):
    found = judged("ac_static", value, unit, **GAS)
    plain = judged("ac_static", 470, "kPa", **GAS)
    assert found.verdict == plain.verdict == "liquid_present"
    assert found.likened.value == pytest.approx(plain.likened.value, abs=0.1)


@pytest.mark.parametrize(("value", "unit"), [(82.87, "psia"), (571.3, "kPa abs"), (5.713, "bara")])
def test_an_absolute_pressure_loses_the_air_beside_a_gauge_quantity(value, unit):
    found = judged("ac_static", value, unit, **GAS)
    assert found.likened.value == pytest.approx(judged("ac_static", 470, "kPa", **GAS).likened.value, abs=0.2)
    assert "kPa gauge at 101.3 kPa of air" in found.why


def test_the_air_taken_off_is_that_of_the_shops_height():
    high = judged("ac_static", 82.87, "psia", altitude_m=1600, **GAS)
    assert "83.52 kPa of air" in high.why
    assert high.verdict == "liquid_present"


def test_a_gauge_vacuum_gains_the_air_beside_an_absolute_quantity():
    assert judged("map_idle", -66, "kPag").verdict == judged("map_idle", 35.3, "kPa").verdict == "ok"


def test_a_difference_of_pressures_has_no_absolute_form():
    with pytest.raises(UnitMismatch):
        judged("dpf_dp", 105, "kPa abs", engine_rpm=2500)


def test_absolute_and_gauge_are_never_converted_into_each_other_unasked():
    assert is_absolute("PSIA") and is_absolute("kPa(a)") and not is_absolute("psi")
    with pytest.raises(UnitMismatch):
        convert(14.7, "psia", "kPa")
    assert convert(14.7, "psia", "kPa abs") == pytest.approx(101.35, abs=0.01)


@given(st.floats(-90, 1800), st.sampled_from(["psi", "bar", "kPa", "inHg", "mbar", "kg/cm2"]))
def test_judging_does_not_depend_on_the_pressure_unit(kpa, unit):
    typed = judged("ac_static", convert(kpa, "kPa", unit), unit, **GAS)
    plain = judged("ac_static", kpa, "kPa", **GAS)
    assert typed.verdict == plain.verdict
    assert (typed.likened is None) == (plain.likened is None)


@given(st.floats(11, 1800), st.floats(0, 4000))
def test_a_pressure_typed_absolute_is_judged_as_its_gauge_value(kpa, height):
    air = 101.325 * (1 - 2.25577e-5 * height) ** 5.25588
    absolute = judged("ac_static", kpa + air, "kPa abs", altitude_m=height, **GAS)
    gauge = judged("ac_static", kpa, "kPa", altitude_m=Measure(height, "m"), **GAS)
    assert absolute.verdict == gauge.verdict


def test_what_is_kept_of_typed_units_has_a_limit():
    kept = [each for each in vars(units).values() if hasattr(each, "cache_parameters")]
    typed = [each for each in kept if signature(each).parameters]
    assert typed and all(each.cache_parameters()["maxsize"] for each in typed)
