"""Readings that go with an outcome, drawn inside or outside what was to be expected."""

from __future__ import annotations

import math
from dataclasses import replace
from random import Random
from typing import NamedTuple

from baylore_kb.readings import outcome_of
from baylore_kb.readings.expected import Range, Unknown, expected
from baylore_kb.readings.given import given
from baylore_kb.trade.model import Quantity, Test, Trade
from baylore_kb.units import convert, symbol
from baylore_kb.values import ConditionValue, Measure, Reading, When
from baylore_service.demo.conditions import Bay, conditions_of
from baylore_service.demo.truth import normal

TRIES = 14
WIDE = 50.0
FIGURES = 3
BELOW = (
    "low",
    "weak",
    "under",
    "none",
    "dead",
    "no_",
    "small",
    "empty",
    "open_early",
    "falls",
    "flat",
    "bad",
)
ABOVE = (
    "high",
    "over",
    "hot",
    "wide",
    "drops",
    "one_dead",
    "several",
    "followed",
    "stayed",
    "one",
    "lean",
    "loaded",
)
# Tests whose quantity is written down with them but does not itself show what was found.
_BESIDE = """
ac_sensor_compare ac_valve_command ac_flap_command ac_evap_temp_read cool_look cool_bleed crank_signal
ring_look egr_command tyre_bath tpms_trigger tyre_swap fan_signal module_output module_supply dry_park
cat_compare o2_heater dlc_check cluster_tap wheel_shake bus_unplug coil_swap
"""
BESIDE = frozenset(_BESIDE.split())
IN_PSI, IN_BAR = {"kilopascal": "psi"}, {"kilopascal": "bar"}
HABITS = {"terse": IN_PSI, "dictated": IN_BAR}


class Zone(NamedTuple):
    """Values that get one verdict; `side` is -1 below what is good, 0 good, 1 above."""

    low: float
    high: float
    side: int


class Gauge:
    """Takes readings in one bay, the way one person does."""

    def __init__(self, trade: Trade, bay: Bay, style: str) -> None:
        self._trade = trade
        self._bay = bay
        self._chance: Random = bay.chance
        self._units = HABITS.get(style, {})

    def reading(self, test: Test, outcome: str, *, point: str = "") -> Reading | None:
        """A reading under which the test shows that outcome; None where its reading does not show it."""
        sound = outcome == normal(test)
        if test.quantity is None or (test.id in BESIDE and not sound):
            return None
        quantity = self._trade.quantities[test.quantity]
        for zone in self._tries(quantity, test, outcome):
            found = self._taken(quantity, zone, point=point)
            if not self._shows(found, test, outcome):
                continue
            written = self._as_written(found, quantity)
            # A temperature nobody wrote down may have decided; people then write it.
            kept = self._shows(written, test, outcome)
            return written if kept else replace(written, conditions=found.conditions)
        return None

    def _shows(self, reading: Reading, test: Test, outcome: str) -> bool:
        return outcome_of(reading, test, self._trade) in (None, outcome)

    def sound(self, test: Test, *, point: str = "") -> Reading | None:
        """The reading after the repair: nothing wrong with it any more."""
        found = self.reading(test, normal(test), point=point)
        return found and replace(found, when="after")

    def _tries(self, quantity: Quantity, test: Test, outcome: str) -> list[Zone]:
        self._conditions = conditions_of(quantity, self._bay)
        limits = expected(quantity, given(quantity, self._conditions, self._trade))
        if isinstance(limits, Unknown):
            return []
        wanted = _wanted(test, outcome)
        fitting = [zone for zone in zones(quantity, limits) if zone.side in wanted]
        return self._chance.choices(fitting, k=TRIES) if fitting else []

    def _taken(self, quantity: Quantity, zone: Zone, *, point: str, when: When = "before") -> Reading:
        value = _between(zone, self._chance)
        place = point or quantity.test_point.split(",")[0]
        return Reading(quantity.id, _rounded(value), quantity.unit, place, when, self._conditions)

    def _as_written(self, reading: Reading, quantity: Quantity) -> Reading:
        unit = self._units.get(quantity.unit, quantity.unit)
        unit = unit if unit in quantity.accepted_units else quantity.unit
        value = (
            _rounded(convert(reading.value, quantity.unit, unit)) if unit != quantity.unit else reading.value
        )
        shown = symbol(unit) if unit in ("volt", "ampere", "kilopascal", "millimeter") else unit
        return replace(reading, value=value, unit=shown, conditions=self._noted(reading))

    def _noted(self, reading: Reading) -> dict[str, ConditionValue]:
        """The conditions as far as they were written down, a temperature now and then with its unit."""
        kept = {name: value for name, value in reading.conditions.items() if self._chance.random() < 0.85}
        ambient = kept.get("ambient_c")
        if isinstance(ambient, float) and self._chance.random() < 0.4:
            kept["ambient_c"] = Measure(ambient, "degC")
        return kept


def zones(quantity: Quantity, limits: Range) -> list[Zone]:
    """The stretches of the quantity's ladder, the open ends cut to what a gauge would show."""
    span = max(limits.high - limits.low, 1e-9)
    good = [at for at, word in enumerate(quantity.ladder) if word in quantity.good]
    first, last = limits.edges[0], limits.edges[-1]
    under = 0.6 * span if good[0] == 0 else max(span, 0.35 * abs(first))
    over = 0.6 * span if good[-1] == len(limits.edges) else max(min(span, 3 * abs(last) + 1), 0.6 * abs(last))
    bottom, top = max(quantity.hard_low, first - under), min(quantity.hard_high, last + over)
    bounds = [bottom, *limits.edges, top]
    sides = [(at > good[-1]) - (at < good[0]) for at in range(len(quantity.ladder))]
    return [
        Zone(low, high, side)
        for low, high, side in zip(bounds, bounds[1:], sides, strict=False)
        if low < high
    ]


def _wanted(test: Test, outcome: str) -> tuple[int, ...]:
    if outcome == normal(test):
        return (0,)
    rule = next(each.rule for each in test.outcomes if each.id == outcome)
    if rule is not None:
        return (-1, 0, 1)
    if any(word in outcome for word in BELOW):
        return (-1,)
    return (1,) if any(word in outcome for word in ABOVE) else (-1, 1)


def _between(zone: Zone, chance: Random) -> float:
    if zone.low > 0 and zone.high / zone.low > WIDE:
        return math.exp(chance.uniform(math.log(zone.low), math.log(zone.high)))
    return chance.uniform(zone.low, zone.high)


def _rounded(value: float) -> float:
    return float(f"{value:.{FIGURES}g}")
