"""Temperature sensors with a negative coefficient; never assume a car's curve is a generic one."""

from __future__ import annotations

import math

from baylore_kb.physics.ranges import ABSOLUTE_ZERO_C, within


def steinhart_hart_c(resistance_ohm: float, *, a: float, b: float, c: float) -> float:
    """Temperature in °C of a sensor of `resistance_ohm` (over 0) with its three coefficients.

    Raises OutOfRange. Source: Steinhart & Hart 1968.
    """
    within("resistance", resistance_ohm, "ohm", low=1e-3, high=1e9)
    log = math.log(resistance_ohm)
    return 1.0 / (a + b * log + c * log**3) + ABSOLUTE_ZERO_C


def beta_resistance_ohm(at_25_ohm: float, beta_k: float, temperature_c: float) -> float:
    """Resistance in ohm at a temperature in °C (-80 to 300) of a sensor known by its beta in K.

    Raises OutOfRange. Source: the two-point form of Steinhart & Hart.
    """
    within("sensor temperature", temperature_c, "°C", low=-80.0, high=300.0)
    warm = 1.0 / (temperature_c - ABSOLUTE_ZERO_C) - 1.0 / (25.0 - ABSOLUTE_ZERO_C)
    return at_25_ohm * math.exp(beta_k * warm)


def divider_v(resistance_ohm: float, pull_up_ohm: float, supply_v: float = 5.0) -> float:
    """Signal in V of a sensor to ground with a pull-up to `supply_v`; resistances over 0.

    Raises OutOfRange. Source: Ohm's law.
    """
    within("pull-up", pull_up_ohm, "ohm", low=1e-3, high=1e9)
    within("resistance", resistance_ohm, "ohm", low=0.0, high=1e12)
    return supply_v * resistance_ohm / (resistance_ohm + pull_up_ohm)
