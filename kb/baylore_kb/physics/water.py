"""Water: vapour pressure, boiling, dew point, and the vacuum that dries a system."""

from __future__ import annotations

import math

from scipy.optimize import brentq

from baylore_kb.physics.air import air_pressure_kpa
from baylore_kb.physics.ranges import ABSOLUTE_ZERO_C, within

_CRITICAL_K, _CRITICAL_KPA = 647.096, 22064.0
_TERMS = (
    (-7.85951783, 1.0),
    (1.84408259, 1.5),
    (-11.7866497, 3.0),
    (22.6807411, 3.5),
    (-15.9618719, 4.0),
    (1.80122502, 7.5),
)


def vapour_pressure_kpa(temperature_c: float) -> float:
    """Saturation pressure of water in kPa absolute, 0 to 350 °C, within 0.03 %.

    Raises OutOfRange. Source: Wagner & Pruss 1993 (IAPWS supplementary release on saturation).
    """
    within("temperature", temperature_c, "°C", low=0.0, high=350.0)
    kelvin = temperature_c - ABSOLUTE_ZERO_C
    rest = 1.0 - kelvin / _CRITICAL_K
    series = sum(factor * rest**power for factor, power in _TERMS)
    return _CRITICAL_KPA * math.exp(_CRITICAL_K / kelvin * series)


def boiling_c(absolute_kpa: float) -> float:
    """Boiling point of water in °C at a pressure of 0.62 to 15000 kPa absolute. Raises OutOfRange."""
    within("pressure", absolute_kpa, "kPa absolute", low=0.62, high=15000.0)
    return float(brentq(lambda t: vapour_pressure_kpa(t) - absolute_kpa, 0.0, 350.0, xtol=1e-9))


def dew_point_c(temperature_c: float, humidity_pct: float) -> float:
    """Dew point in °C of air at 0 to 100 °C and a humidity that keeps it above freezing.

    Humidity in percent, over 0 to 100. Raises OutOfRange. Source: definition.
    """
    within("humidity", humidity_pct, "%", low=0.1, high=100.0)
    return boiling_c(vapour_pressure_kpa(temperature_c) * humidity_pct / 100.0)


def evacuation_vacuum_kpa(ambient_c: float, altitude_m: float = 0.0) -> float:
    """Vacuum in kPa below the air outside from which water boils at `ambient_c` (0 to 60 °C).

    A gauge that reads less cannot dry the system. Raises OutOfRange. Source: definition.
    """
    within("ambient", ambient_c, "°C", low=0.0, high=60.0)
    return air_pressure_kpa(altitude_m) - vapour_pressure_kpa(ambient_c)
