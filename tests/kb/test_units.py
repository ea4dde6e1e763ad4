"""Units as shops write them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.errors import NotAMeasure, UnitMismatch, UnknownUnit
from baylore_kb.units import canonical, convert, known, parse_measure, same_kind, shown, symbol, width
from baylore_kb.units.spellings import SPELLINGS
from baylore_kb.values import Measure

TYPED = [
    (12.6, "Volts", "mV", 12600), (68, "°F", "C", 20), (20, "degC", "F", 68), (18, "F", "delta_degC", 10),
    (1, "kohm", "Ω", 1000), (2, "MΩ", "ohm", 2e6), (5, "mΩ", "ohm", 0.005), (29.92, "in Hg", "kPa", 101.32),
    (1, "bar", "psig", 14.5038), (60, "mph", "km/h", 96.5606), (100, "Miles", "km", 160.9344),
    (90, "ft-lbs", "Nm", 122.0236), (1500, "microns", "Pa", 199.9836), (35, "lbs", "kPa", 241.3165),
    (2, "kohm/V", "ohm/volt", 2000), (1, "lb/min", "g/s", 7.559873), (50, "mA", "amps", 0.05),
    (1, "in", "mm", 25.4),    (2, "R/min", "rpm", 2), (16, "oz", "g", 453.592), (50, "PERCENT", "%", 50),
]  # fmt: skip


@pytest.mark.parametrize(("number", "unit", "to", "want"), TYPED)
def test_units_convert_as_shops_type_them(number, unit, to, want):
    assert convert(number, unit, to) == pytest.approx(want, rel=1e-5)


@given(st.sampled_from(sorted(SPELLINGS)), st.floats(-1e6, 1e6))
def test_a_value_survives_the_way_to_the_usual_unit_and_back(spelling, number):
    usual = canonical(spelling)
    there = convert(number, spelling, usual)
    assert convert(there, usual, spelling) == pytest.approx(number, rel=1e-9, abs=1e-6)


@given(st.sampled_from(sorted(SPELLINGS)))
def test_every_listed_spelling_is_a_unit_with_a_symbol(spelling):
    assert known(spelling)
    assert symbol(spelling) is not None


@given(st.text(max_size=12))
def test_any_text_is_a_unit_or_not_and_never_breaks(text):
    assert known(text) in (True, False)


def test_a_temperature_is_not_a_temperature_difference():
    with pytest.raises(UnitMismatch):
        convert(20, "delta_degC", "degC")
    assert width(9, "degF", "degC") == pytest.approx(5)


def test_a_unit_of_another_dimension_is_refused_with_the_value_and_the_accepted_ones():
    with pytest.raises(UnitMismatch) as refused:
        convert(12.6, "V", "kilopascal", accepted=("kilopascal", "psi"), field="readings[0].unit")
    assert "12.6 V" in refused.value.message
    assert "kPa, psi" in refused.value.remedy
    assert refused.value.field == "readings[0].unit"


def test_an_unknown_unit_is_refused_with_the_accepted_ones():
    with pytest.raises(UnknownUnit) as refused:
        convert(1, "bananas", "volt")
    assert "bananas" in refused.value.message
    assert "V" in refused.value.remedy


def test_units_of_one_kind_are_told_apart_from_others():
    assert same_kind("psi", "kPa")
    assert not same_kind("psi", "volt")
    assert not same_kind("psi", "zork")


READ = {
    "12.1 volts": Measure(12.1, "volts"),
    "141,000 km": Measure(141000.0, "km"),
    "12,1V": Measure(12.1, "V"),
    "\N{MINUS SIGN}3.5 kPa": Measure(-3.5, "kPa"),
    " .5  mm ": Measure(0.5, "mm"),
    "+20 °C": Measure(20.0, "°C"),
}


@pytest.mark.parametrize("text", READ)
def test_a_number_with_its_unit_is_read_as_typed(text):
    assert parse_measure(text) == READ[text]


@pytest.mark.parametrize("text", ["", "volts", "12", "1.2.3 V", "twelve volts", "1,2,3 V"])
def test_text_without_number_or_unit_is_refused(text):
    with pytest.raises(NotAMeasure):
        parse_measure(text)


def test_values_are_shown_short_with_their_symbol():
    assert shown(12.0999999, "volt") == "12.1 V"
    assert shown(12345.6, "ohm") == "12346 Ω"
    assert shown(3, "count") == "3"
