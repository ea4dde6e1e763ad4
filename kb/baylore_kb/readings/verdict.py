"""Which word of a quantity's ladder a value reaches."""

from __future__ import annotations

import math

from baylore_kb.readings.expected import Range
from baylore_kb.trade.model import Quantity
from baylore_kb.units import canonical, convert
from baylore_kb.values import Band

FIGURES = 4


def verdict(quantity: Quantity, value: float, limits: Range) -> str:
    """The ladder's word for `value` in the quantity's unit; a value on an edge takes the good side."""
    step = 0
    for at, edge in enumerate(limits.edges):
        step += _passed(value, edge, quantity.ladder[at] in quantity.good)
    return quantity.ladder[step]


def _passed(value: float, edge: float, good_below: bool) -> bool:
    if math.isclose(value, edge, rel_tol=1e-9, abs_tol=1e-9):
        return not good_below
    return value > edge


def shown_band(quantity: Quantity, limits: Range, unit: str) -> Band:
    """The expected range in `unit` as typed, four figures; open on a side that no verdict minds."""
    low = limits.low if _minded("low", quantity) else None
    high = limits.high if _minded("high", quantity) else None
    return Band(_in_unit(low, quantity, unit), _in_unit(high, quantity, unit), unit)


def _minded(side: str, quantity: Quantity) -> bool:
    return side in quantity.edges


def _in_unit(bound: float | None, quantity: Quantity, unit: str) -> float | None:
    if bound is None:
        return None
    typed = canonical(unit, like=quantity.unit)
    return float(f"{convert(bound, quantity.unit, typed):.{FIGURES}g}")
