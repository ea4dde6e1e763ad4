"""Saturation pressure and temperature of the two common refrigerants, and what follows from them."""

from __future__ import annotations

import math
from functools import cache

from scipy.interpolate import CubicSpline

from baylore_kb.errors import UnknownRefrigerant
from baylore_kb.physics.air import air_pressure_kpa
from baylore_kb.physics.ranges import ABSOLUTE_ZERO_C, within

LOWEST_C, HIGHEST_C = -40.0, 80.0

# Bubble point, kPa absolute every 10 °C from -40 °C, computed with CoolProp 8.0.0 from the
# reference equations of state.
_KPA: dict[str, tuple[float, ...]] = {
    "r134a": (
        51.209, 84.378, 132.735, 200.603, 292.803, 414.607, 571.707, 770.196, 1016.593, 1317.905, 1681.784,
        2116.826, 2633.203,
    ),
    "r1234yf": (
        62.198, 98.933, 150.858, 221.785, 315.880, 437.631, 591.836, 783.619, 1018.473, 1302.349, 1641.830,
        2044.454, 2519.492,
    ),
}  # fmt: skip


def refrigerant_name(text: str) -> str:
    """ "r134a" or "r1234yf" for the ways of writing them ("R-134a", "1234yf"). Raises UnknownRefrigerant."""
    bare = (
        "".join(letter for letter in text.casefold() if letter.isalnum())
        .removeprefix("hfc")
        .removeprefix("hfo")
    )
    for name in _KPA:
        if bare in (name, name[1:]):
            return name
    raise UnknownRefrigerant(text)


@cache
def _curves(name: str) -> tuple[CubicSpline, CubicSpline]:
    """ln P over -1/T and -1/T over ln P: both nearly straight, so the curve between points is tight."""
    log_kpa = [math.log(kpa) for kpa in _KPA[name]]
    cold = [-1.0 / (LOWEST_C + 10.0 * step - ABSOLUTE_ZERO_C) for step in range(len(log_kpa))]
    return CubicSpline(cold, log_kpa), CubicSpline(log_kpa, cold)


def saturation_kpa(refrigerant: str, temperature_c: float) -> float:
    """Saturation pressure in kPa absolute at -40 to 80 °C.

    Interpolates ln P against 1/T in a 10 °C table of CoolProp 8.0.0 values (reference
    equations of state), within 0.05 %. Raises OutOfRange, UnknownRefrigerant.
    """
    pressure, _ = _curves(refrigerant_name(refrigerant))
    within("temperature", temperature_c, "°C", low=LOWEST_C, high=HIGHEST_C)
    return math.exp(float(pressure(-1.0 / (temperature_c - ABSOLUTE_ZERO_C))))


def saturation_temperature_c(refrigerant: str, absolute_kpa: float) -> float:
    """Saturation temperature in °C at a pressure in kPa absolute, within 0.05 K.

    From the pressure at -40 °C to that at 80 °C. Raises OutOfRange, UnknownRefrigerant.
    Source: as `saturation_kpa`.
    """
    name = refrigerant_name(refrigerant)
    low, high = (saturation_kpa(name, end) for end in (LOWEST_C, HIGHEST_C))
    within("pressure", absolute_kpa, "kPa absolute", low=low, high=high)
    _, inverse = _curves(name)
    return -1.0 / float(inverse(math.log(absolute_kpa))) + ABSOLUTE_ZERO_C


def static_pressure_kpa(refrigerant: str, ambient_c: float, altitude_m: float = 0.0) -> float:
    """Gauge pressure in kPa of a stopped system while any liquid is left.

    All parts at ambient (-40 to 80 °C), engine off over 30 min. It says nothing about
    how much liquid there is. Raises OutOfRange, UnknownRefrigerant.
    """
    return saturation_kpa(refrigerant, ambient_c) - air_pressure_kpa(altitude_m)


def subcooling_k(refrigerant: str, high_kpa: float, liquid_line_c: float, altitude_m: float = 0.0) -> float:
    """Kelvin the liquid line is colder than condensing at the high side's gauge pressure in kPa.

    Raises OutOfRange, UnknownRefrigerant. Source: definition.
    """
    return saturation_temperature_c(refrigerant, high_kpa + air_pressure_kpa(altitude_m)) - liquid_line_c


def superheat_k(refrigerant: str, low_kpa: float, suction_c: float, altitude_m: float = 0.0) -> float:
    """Kelvin the suction line is warmer than evaporating at the low side's gauge pressure in kPa.

    Raises OutOfRange, UnknownRefrigerant. Source: definition.
    """
    return suction_c - saturation_temperature_c(refrigerant, low_kpa + air_pressure_kpa(altitude_m))
