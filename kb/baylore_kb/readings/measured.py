"""A reading's value in its quantity's own unit and zero; gauge and absolute pressures are told apart."""

from __future__ import annotations

import math

from baylore_kb.errors import NotAMeasure
from baylore_kb.physics import air_pressure_kpa
from baylore_kb.readings.given import Given
from baylore_kb.trade.model import Quantity
from baylore_kb.units import convert, is_absolute, is_gauge, same_kind, symbol
from baylore_kb.values import Reading

# Quantities that count from a vacuum; all other pressures of the lists count from the air outside.
ABSOLUTE = frozenset(("map_idle", "baro", "weep_vac"))
# Differences between two places have no air to add or take off.
_BETWEEN = frozenset(("dpf_dp", "boost_vac"))
_LOWEST_M, _HIGHEST_M = -500.0, 5000.0


def in_own_unit(reading: Reading, quantity: Quantity, known: Given) -> float:
    """The reading's value in the quantity's unit, from the zero the quantity counts from.

    A unit that says absolute ("psia") beside a gauge quantity loses the air's pressure at the
    known height (sea level unsaid), one that says gauge ("psig") beside an absolute one gains it.
    Raises UnknownUnit, UnitMismatch, NotAMeasure.
    """
    if not math.isfinite(reading.value):
        raise NotAMeasure(str(reading.value))
    air = air_between(reading, quantity, known)
    if is_absolute(reading.unit) and _takes_absolute(quantity):
        kpa = convert(reading.value, reading.unit, "absolute_kilopascal")
        return convert(kpa + air, "kilopascal", quantity.unit)
    own = convert(reading.value, reading.unit, quantity.unit, accepted=quantity.accepted_units)
    return own if air == 0.0 else own + convert(air, "kilopascal", quantity.unit)


def air_between(reading: Reading, quantity: Quantity, known: Given) -> float:
    """Kilopascals of air to add so that the typed pressure counts from the quantity's zero; 0 mostly."""
    from_vacuum = quantity.id in ABSOLUTE
    if is_absolute(reading.unit) and _takes_absolute(quantity) and not from_vacuum:
        return -_air_kpa(reading, known)
    return _air_kpa(reading, known) if from_vacuum and is_gauge(reading.unit) else 0.0


def _takes_absolute(quantity: Quantity) -> bool:
    return same_kind(quantity.unit, "kilopascal") and quantity.id not in _BETWEEN


def _air_kpa(reading: Reading, known: Given) -> float:
    height = known.values.get("altitude_m", reading.conditions.get("altitude_m", 0.0))
    metres = height if isinstance(height, float) else 0.0
    return air_pressure_kpa(min(max(metres, _LOWEST_M), _HIGHEST_M))


def shown_unit(reading: Reading, quantity: Quantity, known: Given) -> str:
    """The unit to show limits in: as typed, or the quantity's own where the typed one has another zero."""
    other_zero = is_absolute(reading.unit) or air_between(reading, quantity, known)
    return symbol(quantity.unit) if other_zero else reading.unit
