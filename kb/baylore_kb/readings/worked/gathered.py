"""The readings of one moment laid out for working out what follows from them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from baylore_kb.readings.given import Given, given
from baylore_kb.readings.judge import judge
from baylore_kb.readings.lent import with_lent
from baylore_kb.readings.lookup import quantity_named
from baylore_kb.readings.measured import in_own_unit
from baylore_kb.trade.model import Quantity, Trade
from baylore_kb.units import shown, symbol
from baylore_kb.values import ConditionValue, Judged, Reading, When

_FIGURES = 4


@dataclass(frozen=True, slots=True)
class Taken:
    """A plausible reading: its quantity, its value in the quantity's unit, its conditions."""

    reading: Reading
    quantity: Quantity
    own: float
    known: Given

    def number(self, condition: str) -> float | None:
        """A numeric condition in its list's unit; None when neither said nor assumed."""
        value = self.known.values.get(condition)
        return value if isinstance(value, float) else None

    def told(self) -> str:
        """The reading in words: "Battery resting voltage 12.4 V"."""
        return f"{self.quantity.title} {shown(self.reading.value, self.reading.unit)}"


@dataclass(frozen=True, slots=True)
class Gathered:
    """Plausible readings by quantity, in the order taken."""

    by_quantity: Mapping[str, Sequence[Taken]]

    def all(self, *quantities: str) -> list[Taken]:
        """Every reading of these quantities."""
        return [taken for name in quantities for taken in self.by_quantity.get(name, ())]

    def last(self, quantity: str) -> Taken | None:
        """The latest reading of a quantity; None without one."""
        taken = self.by_quantity.get(quantity)
        return taken[-1] if taken else None


@dataclass(frozen=True, slots=True)
class Follows:
    """A value that follows: of which readings, and `how` in words where the inputs alone do not say."""

    quantity: str
    value: float
    unit: str
    inputs: Sequence[Taken]
    conditions: Mapping[str, ConditionValue] = field(default_factory=dict)
    how: str = ""

    def judged(self, trade: Trade) -> Judged:
        """Judged like a measured one; its reason starts with what it was worked out from."""
        first = self.inputs[0].reading
        when: When = first.when
        value = float(f"{self.value:.{_FIGURES}g}")
        reading = Reading(self.quantity, value, symbol(self.unit), first.point, when, self.conditions)
        found = judge(reading, trade)
        told = ", ".join(each.told() for each in self.inputs)
        why = f"From {told}{self.how}: {found.why}"
        of = tuple(dict.fromkeys(each.quantity.id for each in self.inputs))
        return replace(found, why=why, of=of)


def gathered(judged: Iterable[Judged], trade: Trade) -> Gathered:
    """The plausible readings by quantity; a lasting condition unsaid at one is taken from another."""
    plausible = [one.reading for one in judged if one.verdict != "implausible"]
    by_quantity: dict[str, list[Taken]] = defaultdict(list)
    for reading in with_lent(plausible, trade):
        taken = _taken(reading, trade)
        by_quantity[taken.quantity.id].append(taken)
    return Gathered(by_quantity)


def _taken(reading: Reading, trade: Trade) -> Taken:
    quantity = quantity_named(reading.quantity, trade)
    known = given(quantity, reading.conditions, trade)
    return Taken(reading, quantity, in_own_unit(reading, quantity, known), known)
