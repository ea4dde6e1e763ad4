"""Boiling and freezing of coolant."""

from __future__ import annotations

from scipy.interpolate import CubicSpline

from baylore_kb.physics.air import air_pressure_kpa
from baylore_kb.physics.ranges import within
from baylore_kb.physics.water import boiling_c

# Mole fraction of water in an equal-volume mix: densities 0.9982 and 1.1132 kg/L at 20 °C.
HALF_GLYCOL_WATER_SHARE = (0.9982 / 18.015) / (0.9982 / 18.015 + 1.1132 / 62.068)

# Melinder's 2010 fit for ethylene glycol and water by mass, computed with CoolProp 8.0.0.
_FREEZE_C = {
    0.05: -1.583,
    0.10: -3.357,
    0.15: -5.443,
    0.20: -7.949,
    0.25: -10.966,
    0.30: -14.576,
    0.35: -18.841,
    0.40: -23.813,
    0.45: -29.524,
    0.50: -35.994,
    0.55: -43.225,
}


def glycol_boiling_c(
    cap_kpa: float, altitude_m: float = 0.0, *, water_share: float = HALF_GLYCOL_WATER_SHARE
) -> float:
    """Boiling point in °C of coolant under a cap of `cap_kpa` gauge at a height in m.

    `water_share` is the mole fraction of water (over 0.5 to 1; equal volumes by default).
    An estimate that overstates by 1 to 2 K. Raises OutOfRange.
    Source: Raoult's law with glycol that does not evaporate.
    """
    within("cap pressure", cap_kpa, "kPa", low=0.0, high=300.0)
    within("water share", water_share, "mole fraction", low=0.5, high=1.0)
    return boiling_c((cap_kpa + air_pressure_kpa(altitude_m)) / water_share)


def glycol_freezing_c(mass_fraction: float) -> float:
    """Freezing point in °C of ethylene glycol in water, mass fraction 0.05 to 0.55.

    Raises OutOfRange. Source: Melinder 2010, by a table computed with CoolProp 8.0.0.
    """
    within("glycol mass fraction", mass_fraction, "", low=0.05, high=0.55)
    return float(CubicSpline(list(_FREEZE_C), list(_FREEZE_C.values()))(mass_fraction))
