"""Wires, fuses and coils: what a voltage drop or a resistance means."""

from __future__ import annotations

from baylore_kb.physics.ranges import straight, within

COPPER_OHM_MM2_PER_M = 0.01724
COPPER_PER_K = 0.00393

# Cold resistance of regular blade fuses by rating, ohm; from memory of a data sheet, ±20 %.
_FUSE_OHM = (
    (5.0, 0.01785),
    (7.5, 0.01091),
    (10.0, 0.0077),
    (15.0, 0.0048),
    (20.0, 0.00338),
    (25.0, 0.00252),
    (30.0, 0.00197),
)
FUSE_SPREAD = 0.2
SMALLEST_FUSE_A, LARGEST_FUSE_A = _FUSE_OHM[0][0], _FUSE_OHM[-1][0]


def drop_resistance_ohm(drop_v: float, current_a: float) -> float:
    """Resistance in ohm behind a voltage drop; current must flow (0.001 A or more), else OutOfRange."""
    within("current", current_a, "A", low=0.001, high=100_000.0)
    return drop_v / current_a


def drop_power_w(drop_v: float, current_a: float) -> float:
    """Heat in W that a voltage drop makes at a current in A. Source: definition."""
    return drop_v * current_a


def wire_resistance_ohm(length_m: float, area_mm2: float, *, copper_c: float = 20.0) -> float:
    """Resistance in ohm of a good copper wire, one way, 20 °C unless given.

    Area 0.01 to 1000 mm², length from 0. Raises OutOfRange. Source: IEC 60028, 17.24 mohm·mm²/m.
    """
    within("area", area_mm2, "mm²", low=0.01, high=1000.0)
    within("length", length_m, "m", low=0.0, high=10_000.0)
    return copper_resistance_ohm(COPPER_OHM_MM2_PER_M * length_m / area_mm2, copper_c)


def copper_resistance_ohm(at_20_ohm: float, copper_c: float) -> float:
    """Resistance in ohm of copper that has `at_20_ohm` at 20 °C; -60 to 250 °C, else OutOfRange.

    Source: IEC 60028, 0.393 % per K.
    """
    within("copper temperature", copper_c, "°C", low=-60.0, high=250.0)
    return at_20_ohm * (1.0 + COPPER_PER_K * (copper_c - 20.0))


def coil_current_a(volts: float, at_20_ohm: float, coil_c: float = 20.0) -> float:
    """Steady current in A of a copper coil without electronics; `at_20_ohm` over 0.

    Raises OutOfRange. Source: Ohm's law and IEC 60028.
    """
    within("coil resistance", at_20_ohm, "ohm", low=1e-6, high=1e9)
    return volts / copper_resistance_ohm(at_20_ohm, coil_c)


def fuse_current_a(millivolts: float, rating_a: float) -> tuple[float, float, float]:
    """Current in A through a regular blade fuse from the mV across it: low, likely, high.

    Rating 5 to 30 A, current well under it; the band is ±20 % of the resistance.
    Raises OutOfRange. Source: from memory of a fuse maker's data sheet, not verified.
    """
    within("fuse rating", rating_a, "A", low=SMALLEST_FUSE_A, high=LARGEST_FUSE_A)
    ohm = straight(_FUSE_OHM, rating_a)
    likely = millivolts / 1000.0 / ohm
    return likely / (1.0 + FUSE_SPREAD), likely, likely / (1.0 - FUSE_SPREAD)
