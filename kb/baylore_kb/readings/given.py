"""The conditions beside a reading, in the units the quantity's formulas want."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from baylore_kb.errors import NotAMeasure
from baylore_kb.trade.model import Condition, Quantity, Trade
from baylore_kb.units import convert, parse_measure, shown
from baylore_kb.values import ConditionValue, Measure

_UNIT_ENDINGS = frozenset({"a", "ah", "bar", "c", "cca", "grams", "kmh", "kpa", "m", "ohm", "pct", "v"})


@dataclass(frozen=True, slots=True)
class Given:
    """Condition values by id; those in `assumed` were not said but are an honest guess.

    Words are compared without case; `said` keeps them as typed. `unheard` are names no
    condition goes by, such as typing slips.
    """

    values: Mapping[str, float | str]
    assumed: frozenset[str]
    said: Mapping[str, str] = field(default_factory=dict)
    unheard: tuple[str, ...] = ()

    def missing(self, names: frozenset[str]) -> tuple[str, ...]:
        """Which of `names` are neither given nor assumed, in alphabetical order."""
        return tuple(sorted(names - self.values.keys()))


def given(quantity: Quantity, conditions: Mapping[str, ConditionValue], trade: Trade) -> Given:
    """`conditions` as the quantity's own, with defaults for what may honestly be assumed.

    A plain name such as "temperature" means the first of the quantity's conditions that
    goes by it. What the quantity does not ask for is left aside.
    Raises UnknownUnit, UnitMismatch or NotAMeasure naming the condition.
    """
    own = [trade.conditions[name] for name in quantity.conditions]
    values: dict[str, float | str] = {}
    said: dict[str, str] = {}
    for name, value in sorted(conditions.items(), key=lambda pair: pair[0] not in quantity.conditions):
        condition = _meant(name, own, values)
        if condition is not None:
            values[condition.id] = _settled(value, condition, f"conditions.{name}")
            if isinstance(value, str):
                said[condition.id] = value.strip()
    assumed = {c.id: c.default for c in own if c.default is not None and c.id not in values}
    return Given(values | assumed, frozenset(assumed), said, _unheard(conditions, trade))


def _meant(name: str, own: list[Condition], taken: Mapping[str, object]) -> Condition | None:
    plain = name.strip().casefold()
    free = [condition for condition in own if condition.id not in taken]
    exact = (condition for condition in free if condition.id == plain)
    other = (condition for condition in free if plain in condition.also)
    return next(exact, None) or next(other, None)


def _unheard(conditions: Iterable[str], trade: Trade) -> tuple[str, ...]:
    known = trade.conditions.keys() | trade.also_conditions.keys()
    return tuple(sorted(name for name in conditions if name.strip().casefold() not in known))


def _settled(value: ConditionValue, condition: Condition, where: str) -> float | str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return _read(value, condition, where)
    if isinstance(value, Measure):
        return (
            convert(value.value, value.unit, condition.unit, field=where) if condition.unit else value.value
        )
    return float(value)


def _read(text: str, condition: Condition, where: str) -> float | str:
    if condition.unit is None:
        return text.strip().casefold()
    try:
        return float(text)
    except ValueError:
        pass
    try:
        measure = parse_measure(text)
    except NotAMeasure as error:
        raise NotAMeasure(text, field=where) from error
    return convert(measure.value, measure.unit, condition.unit, field=where)


def told(quantity: Quantity, known: Given, names: frozenset[str], trade: Trade) -> str:
    """The conditions in `names` as words: "ambient 15 °C, altitude 0 m (assumed)"; empty for none."""
    used = [name for name in quantity.conditions if name in names and name in known.values]
    return ", ".join(_told_one(trade.conditions[name], known) for name in used)


def _told_one(condition: Condition, known: Given) -> str:
    value = known.values[condition.id]
    text = known.said.get(condition.id) or _as_words(value, condition)
    return f"{label(condition)} {text}" + (" (assumed)" if condition.id in known.assumed else "")


def _as_words(value: float | str, condition: Condition) -> str:
    return value if isinstance(value, str) else shown(value, condition.unit or "")


def label(condition: Condition) -> str:
    """A condition's short name in words: "battery temp" for battery_temp_c."""
    words = condition.id.split("_")
    return " ".join(words[:-1] if len(words) > 1 and words[-1] in _UNIT_ENDINGS else words)
