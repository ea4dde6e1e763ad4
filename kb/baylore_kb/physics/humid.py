"""Humid air through an evaporator: what a vent should give, dew point and wet bulb."""

from __future__ import annotations

from dataclasses import dataclass

from scipy.optimize import brentq

from baylore_kb.physics.air import SEA_LEVEL_KPA
from baylore_kb.physics.ranges import within
from baylore_kb.physics.water import vapour_pressure_kpa

# Air leaves a wet evaporator nearly, not fully, saturated.
LEAVING_SHARE = 0.95
COIL_C = 3.0


@dataclass(frozen=True, slots=True)
class GoodCar:
    """A car known to cool well: air in, its humidity in percent, and the vent's temperature."""

    ambient_c: float = 30.0
    humidity_pct: float = 40.0
    vent_c: float = 8.0


def moisture(temperature_c: float, humidity_share: float) -> float:
    """Kilograms of water per kilogram of dry air at sea level, 0 to 60 °C, share 0 to 1."""
    vapour = humidity_share * vapour_pressure_kpa(temperature_c)
    return 0.621945 * vapour / (SEA_LEVEL_KPA - vapour)


def enthalpy_kj_per_kg(temperature_c: float, water: float) -> float:
    """Heat of air in °C with `water` kg/kg, in kJ per kg of dry air. Source: ideal mixture."""
    return 1.006 * temperature_c + water * (2501.0 + 1.86 * temperature_c)


def vent_band_c(ambient_c: float, humidity_pct: float, *, good: GoodCar | None = None) -> tuple[float, float]:
    """Vent temperature to expect in °C, low to high, of a car as good as the `good` one.

    Outside air, 15 to 50 °C, 5 to 100 %. Low if the coil keeps its effectiveness, high if it
    only takes the same heat. Raises OutOfRange. Own model: no published standard found.
    """
    within("ambient", ambient_c, "°C", low=15.0, high=50.0)
    within("humidity", humidity_pct, "%", low=5.0, high=100.0)
    car = good or GoodCar()
    drop, bypass = _reference(car)
    water = moisture(ambient_c, humidity_pct / 100.0)
    entering, coil = enthalpy_kj_per_kg(ambient_c, water), _coil()
    effective = _leaving_c(coil + bypass * (entering - coil), water)
    limited = _leaving_c(entering - drop, water)
    return min(effective, limited), max(effective, limited)


def _coil() -> float:
    return enthalpy_kj_per_kg(COIL_C, moisture(COIL_C, 1.0))


def _reference(car: GoodCar) -> tuple[float, float]:
    """Heat taken in kJ/kg and the share of air that seems to bypass the coil."""
    water = moisture(car.ambient_c, car.humidity_pct / 100.0)
    entering = enthalpy_kj_per_kg(car.ambient_c, water)
    leaving = enthalpy_kj_per_kg(car.vent_c, min(water, moisture(car.vent_c, LEAVING_SHARE)))
    return entering - leaving, (leaving - _coil()) / (entering - _coil())


def _leaving_c(enthalpy: float, water: float) -> float:
    def excess(at_c: float) -> float:
        return enthalpy_kj_per_kg(at_c, min(water, moisture(at_c, LEAVING_SHARE))) - enthalpy

    return float(brentq(excess, 0.0, 60.0)) if excess(0.0) < 0.0 else 0.0


def wet_bulb_c(temperature_c: float, humidity_pct: float) -> float:
    """Wet bulb temperature in °C at sea level, for 5 to 60 °C and 5 to 100 %; not under 0 °C.

    Raises OutOfRange. Source: adiabatic saturation of an ideal mixture.
    """
    within("temperature", temperature_c, "°C", low=5.0, high=60.0)
    within("humidity", humidity_pct, "%", low=5.0, high=100.0)
    water = moisture(temperature_c, humidity_pct / 100.0)
    heat = enthalpy_kj_per_kg(temperature_c, water)

    def excess(at_c: float) -> float:
        full = moisture(at_c, 1.0)
        return heat + (full - water) * 4.186 * at_c - enthalpy_kj_per_kg(at_c, full)

    return float(brentq(excess, 0.0, temperature_c)) if excess(0.0) > 0.0 else 0.0
