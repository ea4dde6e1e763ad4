"""Judge one reading."""

from __future__ import annotations

import math

from baylore_kb.errors import NotAMeasure
from baylore_kb.readings.doubt import plausible, question
from baylore_kb.readings.expected import Range, Unknown, expected
from baylore_kb.readings.given import Given, given
from baylore_kb.readings.lookup import quantity_named
from baylore_kb.readings.reason import reason
from baylore_kb.readings.verdict import shown_band, verdict
from baylore_kb.trade.model import Quantity, Trade
from baylore_kb.units import convert
from baylore_kb.values import Judged, Reading


def judge(reading: Reading, trade: Trade) -> Judged:
    """The verdict on `reading`, with the expected range in its own unit, the reason and the source.

    The verdict is a word of the quantity's ladder; "implausible" beyond its hard limits,
    asked about and never dropped; "unknown" when a condition is missing that cannot
    honestly be assumed (in `needs`). `good` is None where nothing can be said.
    Raises UnknownQuantity, UnknownUnit, UnitMismatch, NotAMeasure.
    """
    quantity = quantity_named(reading.quantity, trade)
    own = in_own_unit(reading, quantity)
    known = given(quantity, reading.conditions, trade)
    limits = expected(quantity, known)
    if not plausible(quantity, own):
        return _implausible(reading, quantity, limits)
    if isinstance(limits, Unknown):
        return _unknown(reading, quantity, limits, trade)
    return _judged(reading, quantity, own, limits=limits, known=known, trade=trade)


def in_own_unit(reading: Reading, quantity: Quantity) -> float:
    """The reading's value in the quantity's unit. Raises UnknownUnit, UnitMismatch, NotAMeasure."""
    if not math.isfinite(reading.value):
        raise NotAMeasure(str(reading.value))
    return convert(reading.value, reading.unit, quantity.unit, accepted=quantity.accepted_units)


def _implausible(reading: Reading, quantity: Quantity, limits: Range | Unknown) -> Judged:
    band = shown_band(quantity, limits, reading.unit) if isinstance(limits, Range) else None
    why = question(quantity, reading.value, reading.unit, limits)
    return Judged(reading, band, "implausible", why, quantity.source)


def _unknown(reading: Reading, quantity: Quantity, limits: Unknown, trade: Trade) -> Judged:
    titles = [trade.conditions[name].title for name in limits.needs if name in trade.conditions]
    ask = f" Please give: {'; '.join(titles)}." if titles else ""
    why = f"{quantity.title}: {limits.why}.{ask}"
    return Judged(reading, None, "unknown", why, quantity.source, needs=limits.needs)


def _judged(
    reading: Reading, quantity: Quantity, own: float, *, limits: Range, known: Given, trade: Trade
) -> Judged:
    word = verdict(quantity, own, limits)
    band = shown_band(quantity, limits, reading.unit)
    why = reason(reading, quantity, own, limits=limits, band=band, known=known, word=word, trade=trade)
    good = None if quantity.expected.kind == "maker" else word in quantity.good
    return Judged(reading, band, word, why, quantity.source, good=good)
