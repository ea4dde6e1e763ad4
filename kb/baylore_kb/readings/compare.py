"""Make readings comparable: freed of their conditions, within what the instruments can tell."""

from __future__ import annotations

import math

from baylore_kb.expressions import names
from baylore_kb.physics import COLDEST_C, HOTTEST_C, state_of_charge_pct
from baylore_kb.readings.expected import Range
from baylore_kb.readings.given import Given
from baylore_kb.trade.model import Quantity
from baylore_kb.values import Likened

# What an ordinary shop instrument cannot tell apart, in the quantity's unit; from memory.
_INSTRUMENT = {
    "volt": 0.01,
    "millivolt": 0.05,
    "ampere": 0.1,
    "milliampere": 2.0,
    "kilopascal": 3.0,
    "bar": 2.0,
    "degC": 1.0,
    "delta_degC": 1.5,
    "percent": 1.0,
    "millimeter": 0.01,
    "rpm": 10.0,
    "gram": 10.0,
    "gram/second": 0.1,
    "kilometer/hour": 0.5,
    "degree": 0.5,
}
_LOG_INSTRUMENT = 0.02
_SHARE_OF_SCALE = 0.1
# Worked out over many decades, whatever the load or the draw: only the ratio tells.
_WIDE = frozenset(("drop_ohm", "flat_hours"))
_WIDE_LIKENED = (0.05, 0.5)
_CHARGE_LIKENED = (5.0, 20.0)


def likened(quantity: Quantity, own: float, known: Given, *, limits: Range) -> Likened:
    """What to compare of `own`, in the quantity's unit, under its conditions and range.

    The charge of a rested flooded battery, decades for resistances, the distance from the middle of
    a range that moves with its conditions (a static pressure over saturation), else the value.
    """
    if quantity.id == "batt_rest":
        charge = state_of_charge_pct(own, _battery_c(known))
        return Likened("state of charge", charge, *_CHARGE_LIKENED)
    if quantity.id in _WIDE:
        return Likened("decades", _decades(own), *_WIDE_LIKENED)
    return _placed(quantity, own, limits)


def _battery_c(known: Given) -> float:
    """The battery's temperature, inside what the voltage table holds for."""
    return min(max(float(known.values["battery_temp_c"]), COLDEST_C), HOTTEST_C)


def _placed(quantity: Quantity, own: float, limits: Range) -> Likened:
    log = quantity.unit.startswith("ohm")
    value, low, high = (_decades(v) if log else v for v in (own, limits.low, limits.high))
    instrument, scale = _reach(quantity, low, high, log=log)
    if _moves(quantity):
        return Likened("from the expected", value - (low + high) / 2.0, instrument, scale)
    return Likened("value", value, instrument, scale)


def _reach(quantity: Quantity, low: float, high: float, *, log: bool) -> tuple[float, float]:
    """What the instrument cannot tell, and half the width of the range; both over 0."""
    scale = max((high - low) / 2.0, 1e-9)
    floor = _LOG_INSTRUMENT if log else min(_INSTRUMENT.get(quantity.unit, 0.0), scale / 2.0)
    return max(floor, _SHARE_OF_SCALE * scale), scale


def _decades(value: float) -> float:
    return math.log10(max(value, 0.01))


def _moves(quantity: Quantity) -> bool:
    what = quantity.expected
    return what.kind == "table" or bool(names(what.low) | names(what.high))


def similarity(a: Likened, b: Likened) -> float:
    """1 within the wider tolerance of the two, falling to 0 with distance; 0 for unlike things."""
    if a.what != b.what:
        return 0.0
    tolerance, scale = max(a.instrument, b.instrument), max(a.scale, b.scale)
    return closeness(a.value, b.value, tolerance=tolerance, scale=scale)


def closeness(a: float, b: float, *, tolerance: float, scale: float) -> float:
    """1 inside `tolerance`, then exp(-((|a - b| - tolerance) / scale)^2); `scale` > 0, all in one unit.

    Source: own form beside Gower 1971.
    """
    beyond = abs(a - b) - tolerance
    return 1.0 if beyond <= 0 else math.exp(-((beyond / scale) ** 2))
