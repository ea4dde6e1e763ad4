"""Engines: air mass, fuel trim, compression, cylinder leakage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baylore_kb.physics.ranges import ABSOLUTE_ZERO_C, within

_AIR_KJ_PER_KG_K = 0.28705
EVEN_SHARE = 0.75


def ideal_air_mass_g_s(litres: float, rpm: float, *, intake_c: float, air_kpa: float) -> float:
    """Air in g/s a four-stroke engine would take with completely filled cylinders.

    Litres and rpm from 0, intake -60 to 150 °C, pressure absolute in kPa. Raises OutOfRange.
    Source: ideal gas law.
    """
    kelvin = within("intake temperature", intake_c, "°C", low=-60.0, high=150.0) - ABSOLUTE_ZERO_C
    density_g_per_l = air_kpa / (_AIR_KJ_PER_KG_K * kelvin)
    return density_g_per_l * litres * rpm / 120.0


def volumetric_efficiency(measured_g_s: float, ideal_g_s: float) -> float:
    """Share of the ideal air mass; over 1 only when boosted.

    Sound only at full load and not boosted. Raises OutOfRange for an ideal of 0.
    """
    return measured_g_s / within("ideal air mass", ideal_g_s, "g/s", low=1e-9, high=1e6)


def speed_density_g_s(
    litres: float, rpm: float, *, intake_c: float, map_kpa: float, efficiency: float
) -> float:
    """Air in g/s from manifold pressure in kPa absolute and volumetric efficiency (share).

    Raises OutOfRange. Source: ideal gas law.
    """
    return efficiency * ideal_air_mass_g_s(litres, rpm, intake_c=intake_c, air_kpa=map_kpa)


def fuel_trim_sum_pct(short_pct: float, long_pct: float) -> float:
    """Total fuel trim in percent as usually added; same bank, same moment."""
    return short_pct + long_pct


def fuel_trim_product_pct(short_pct: float, long_pct: float) -> float:
    """Total fuel trim in percent as the two factors multiply; same bank, same moment."""
    return ((1.0 + short_pct / 100.0) * (1.0 + long_pct / 100.0) - 1.0) * 100.0


def leak_down_pct(supply: float, cylinder: float) -> float:
    """Leakage in percent from two pressures in one unit; supply over 0, else OutOfRange."""
    within("supply pressure", supply, "", low=1e-9, high=1e9)
    return (supply - cylinder) / supply * 100.0


@dataclass(frozen=True, slots=True)
class CompressionSpread:
    """Lowest over highest, the spread in percent, whether it passes 75 %, the worst cylinder from 0."""

    share: float
    spread_pct: float
    even: bool
    worst: int


def compression_spread(pressures: Sequence[float]) -> CompressionSpread:
    """How even the cylinders are; all pressures in one unit, highest over 0, else OutOfRange.

    One cylinder is even with itself; none raises OutOfRange. Source: the 75 % rule is common
    practice, no published source.
    """
    highest = within("highest compression", max(pressures, default=0.0), "", low=1e-9, high=1e9)
    lowest = min(pressures)
    share = lowest / highest
    return CompressionSpread(
        share=share,
        spread_pct=(1.0 - share) * 100.0,
        even=share >= EVEN_SHARE,
        worst=list(pressures).index(lowest),
    )
