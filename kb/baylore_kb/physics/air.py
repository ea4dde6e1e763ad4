"""Air pressure by height, manifold vacuum, tyres."""

from __future__ import annotations

from baylore_kb.physics.ranges import ABSOLUTE_ZERO_C, within

SEA_LEVEL_KPA = 101.325


def air_pressure_kpa(altitude_m: float) -> float:
    """Air pressure of the standard atmosphere in kPa absolute; height -500 to 5000 m.

    Weather moves the real pressure by about 3 kPa. Raises OutOfRange.
    Source: ISO 2533.
    """
    within("altitude", altitude_m, "m", low=-500.0, high=5000.0)
    return float(SEA_LEVEL_KPA * (1.0 - 2.25577e-5 * altitude_m) ** 5.25588)


def manifold_vacuum_kpa(map_kpa: float, altitude_m: float = 0.0) -> float:
    """Vacuum a gauge shows, in kPa below the air outside, for an absolute pressure in kPa.

    Negative under boost. Raises OutOfRange for the height. Source: definition.
    """
    return air_pressure_kpa(altitude_m) - map_kpa


def tyre_pressure_kpa(gauge_kpa: float, from_c: float, to_c: float, altitude_m: float = 0.0) -> float:
    """Gauge pressure in kPa after the tyre goes from `from_c` to `to_c` degrees Celsius.

    -60 to 150 °C, constant volume. Raises OutOfRange. Source: ideal gas law.
    """
    outside = air_pressure_kpa(altitude_m)
    start = within("tyre temperature", from_c, "°C", low=-60.0, high=150.0) - ABSOLUTE_ZERO_C
    end = within("tyre temperature", to_c, "°C", low=-60.0, high=150.0) - ABSOLUTE_ZERO_C
    return (gauge_kpa + outside) * end / start - outside
