"""Compare readings like with like, within what the instruments can tell."""

from __future__ import annotations

import math
from dataclasses import dataclass

from baylore_kb.expressions import names
from baylore_kb.physics import state_of_charge_pct
from baylore_kb.readings.doubt import plausible
from baylore_kb.readings.expected import Range, expected
from baylore_kb.readings.given import Given, given
from baylore_kb.readings.judge import in_own_unit
from baylore_kb.readings.lookup import quantity_named
from baylore_kb.trade.model import Quantity, Trade
from baylore_kb.values import Reading

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
_LOG_OHM_INSTRUMENT = 0.02
_SHARE_OF_SCALE = 0.1


@dataclass(frozen=True, slots=True)
class Tolerance:
    """Inside `instrument` two readings are the same; `scale` is half the width that parts good from bad."""

    instrument: float
    scale: float
    unit: str


@dataclass(frozen=True, slots=True)
class Derived:
    """A reading made comparable: `value` of `what` in the unit of `tolerance`, freed of its conditions."""

    quantity: str
    what: str
    value: float
    tolerance: Tolerance


def tolerance(quantity: Quantity) -> Tolerance:
    """Instrument tolerance and scale of a quantity's own values, in its unit (decades for ohms).

    For ranges that depend on conditions the width is not known here; a tenth of the hard
    limits' span stands in, and `derived` knows better.
    """
    low, high = quantity.expected.low, quantity.expected.high
    if not isinstance(low, float) or not isinstance(high, float):
        low, high = 0.0, (quantity.hard_high - quantity.hard_low) / 10.0
    return _tolerance(quantity, low, high)


def _tolerance(quantity: Quantity, low: float, high: float) -> Tolerance:
    if _in_decades(quantity):
        scale = (_decades(high) - _decades(low)) / 2.0
        return Tolerance(max(_LOG_OHM_INSTRUMENT, _SHARE_OF_SCALE * scale), scale, "decades")
    scale = (high - low) / 2.0
    floor = min(_INSTRUMENT.get(quantity.unit, 0.0), scale / 2.0)
    return Tolerance(max(floor, _SHARE_OF_SCALE * scale), scale, quantity.unit)


def _in_decades(quantity: Quantity) -> bool:
    # Resistances run from a short to an open circuit: only the ratio means anything.
    return quantity.unit.startswith("ohm")


def _decades(ohm: float) -> float:
    return math.log10(max(ohm, 0.01))


def derived(reading: Reading, trade: Trade) -> Derived | None:
    """What to compare of `reading`: charge of a battery, pressure over saturation, place in its range.

    None when the value is implausible or a needed condition is missing, so that it must not
    be compared. Raises UnknownQuantity, UnknownUnit, UnitMismatch, NotAMeasure.
    """
    quantity = quantity_named(reading.quantity, trade)
    own = in_own_unit(reading, quantity)
    known = given(quantity, reading.conditions, trade)
    limits = expected(quantity, known)
    if not plausible(quantity, own) or not isinstance(limits, Range):
        return None
    if quantity.id == "batt_rest":
        return _charge(quantity, own, known)
    return _placed(quantity, own, limits)


def _charge(quantity: Quantity, own: float, known: Given) -> Derived:
    charge = state_of_charge_pct(own, float(known.values["battery_temp_c"]))
    return Derived(quantity.id, "state of charge", charge, Tolerance(5.0, 20.0, "percent"))


def _placed(quantity: Quantity, own: float, limits: Range) -> Derived:
    fitting = _tolerance(quantity, limits.low, limits.high)
    if not _moves(quantity):
        return Derived(quantity.id, "value", _decades(own) if _in_decades(quantity) else own, fitting)
    if _in_decades(quantity):
        middle = (_decades(limits.low) + _decades(limits.high)) / 2.0
        return Derived(quantity.id, "decades from the expected", _decades(own) - middle, fitting)
    middle = (limits.low + limits.high) / 2.0
    return Derived(quantity.id, "difference from the expected", own - middle, fitting)


def _moves(quantity: Quantity) -> bool:
    what = quantity.expected
    return what.kind == "table" or bool(names(what.low) | names(what.high))


def similarity(a: Derived, b: Derived) -> float:
    """1 within the instrument's tolerance, falling to 0 with distance; 0 for unlike things.

    exp(-((|a - b| - tolerance) / scale)^2), with the wider tolerance and scale of the two.
    """
    if (a.quantity, a.what) != (b.quantity, b.what):
        return 0.0
    instrument = max(a.tolerance.instrument, b.tolerance.instrument)
    scale = max(a.tolerance.scale, b.tolerance.scale)
    beyond = max(0.0, abs(a.value - b.value) - instrument)
    return math.exp(-((beyond / scale) ** 2)) if scale > 0 else float(beyond == 0.0)
