"""Conditions said once hold for the whole job: lend them to readings that leave them unsaid."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from baylore_kb.readings.given import given
from baylore_kb.readings.lookup import quantity_named
from baylore_kb.trade.model import Trade
from baylore_kb.values import ConditionValue, Reading

# What does not change from one test point to the next while a car is in the bay.
LASTING = frozenset(
    (
        "altitude_m",
        "ambient_c",
        "battery_ah",
        "battery_type",
        "cap_rating_kpa",
        "engine_litres",
        "engine_type",
        "fuel_type",
        "label_cca",
        "label_grams",
        "placard_kpa",
        "rated_a",
        "refrigerant",
        "set_kpa",
    )
)


def with_lent(readings: Sequence[Reading], trade: Trade) -> tuple[Reading, ...]:
    """The readings, each with the lasting conditions it wants from those of the same moment.

    An earlier reading lends before a later one; a reading's own conditions stay. In step.
    Raises UnknownQuantity, UnknownUnit, UnitMismatch, NotAMeasure.
    """
    if len(readings) < 2:
        return tuple(readings)
    said = [_lasting(reading, trade) for reading in readings]
    return tuple(_lend(place, readings, said, trade) for place in range(len(readings)))


def _lasting(reading: Reading, trade: Trade) -> dict[str, ConditionValue]:
    known = given(quantity_named(reading.quantity, trade), reading.conditions, trade)
    own = LASTING & known.values.keys() - known.assumed
    return {name: known.said.get(name, known.values[name]) for name in own}


def _lend(
    place: int, readings: Sequence[Reading], said: Sequence[Mapping[str, ConditionValue]], trade: Trade
) -> Reading:
    reading = readings[place]
    wanted = LASTING.intersection(quantity_named(reading.quantity, trade).conditions) - said[place].keys()
    # Nearest last, so that it wins: later readings backwards, then earlier ones in order.
    lenders = [*reversed(range(place + 1, len(readings))), *range(place)]
    lent = {
        name: value
        for lender in lenders
        if readings[lender].when == reading.when
        for name, value in said[lender].items()
        if name in wanted
    }
    return replace(reading, conditions={**reading.conditions, **lent}) if lent else reading
