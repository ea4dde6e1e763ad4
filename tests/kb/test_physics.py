"""Physics: orders and limits that hold for every input (figures are held by the outside checks)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb import physics
from baylore_kb.errors import OutOfRange, UnknownRefrigerant

GASES = st.sampled_from(["R134a", "R-1234yf", "134A", "r1234yf"])
COLD = st.floats(-40, 79)


@given(GASES, COLD, st.floats(0.5, 1))
def test_saturation_pressure_rises_with_temperature(gas, temperature, step):
    assert physics.saturation_kpa(gas, temperature + step) > physics.saturation_kpa(gas, temperature)


@given(GASES, COLD)
def test_saturation_temperature_undoes_saturation_pressure(gas, temperature):
    back = physics.saturation_temperature_c(gas, physics.saturation_kpa(gas, temperature))
    assert back == pytest.approx(temperature, abs=0.05)


@given(GASES, st.floats(-10, 60), st.floats(0, 4000))
def test_a_gauge_reads_more_static_pressure_higher_up(gas, ambient, height):
    up, down = (physics.static_pressure_kpa(gas, ambient, at) for at in (height + 500, height))
    assert up > down


@given(st.floats(11, 14), st.floats(-30, 55))
def test_state_of_charge_stays_between_nought_and_full(volts, temperature):
    assert 0 <= physics.state_of_charge_pct(volts, temperature) <= 100


@given(st.floats(11, 13), st.floats(0, 0.5), st.floats(-30, 55))
def test_more_rest_voltage_never_means_less_charge(volts, more, temperature):
    charge = physics.state_of_charge_pct(volts, temperature)
    assert physics.state_of_charge_pct(volts + more, temperature) >= charge


@given(st.floats(0.1, 300), st.floats(0, 4999))
def test_boiling_follows_the_pressure_over_coolant(cap, height):
    assert physics.glycol_boiling_c(cap, height) > physics.glycol_boiling_c(0, height)


@given(st.floats(15, 45), st.floats(10, 90))
def test_a_vent_is_never_warmer_than_the_air_it_cools(ambient, humidity):
    low, high = physics.vent_band_c(ambient, humidity)
    assert low <= high <= ambient


@given(st.floats(0.1, 500), st.floats(5, 30))
def test_a_fuse_current_comes_with_its_doubt(millivolts, rating):
    low, likely, high = physics.fuse_current_a(millivolts, rating)
    assert low < likely < high


@given(st.lists(st.floats(1, 300), min_size=1, max_size=12))
def test_the_worst_cylinder_is_the_lowest(pressures):
    spread = physics.compression_spread(pressures)
    assert pressures[spread.worst] == min(pressures)
    assert spread.even == (spread.share >= 0.75)


REFUSED = {
    "altitude": lambda: physics.air_pressure_kpa(9000),
    "temperature": lambda: physics.saturation_kpa("R134a", float("nan")),
    "pressure": lambda: physics.saturation_temperature_c("R134a", -5),
    "current": lambda: physics.drop_resistance_ohm(0.2, 0),
    "fuse rating": lambda: physics.fuse_current_a(1, 100),
    "draw": lambda: physics.hours_to_no_start(60, 0, soc_now=1, soc_no_start=0.5),
    "highest compression": lambda: physics.compression_spread([]),
    "supply pressure": lambda: physics.leak_down_pct(0, 0),
    "coil resistance": lambda: physics.coil_current_a(12, 0),
}


@pytest.mark.parametrize("what", REFUSED)
def test_values_outside_a_formula_are_refused_by_name(what):
    with pytest.raises(OutOfRange) as refused:
        REFUSED[what]()
    assert refused.value.field == what
    assert what in refused.value.message


def test_an_unlisted_refrigerant_is_refused_with_the_known_ones():
    with pytest.raises(UnknownRefrigerant) as refused:
        physics.saturation_kpa("R12", 20)
    assert "R12" in refused.value.message
    assert "R134a or R1234yf" in refused.value.remedy
