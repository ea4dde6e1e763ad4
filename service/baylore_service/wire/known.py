"""Checks of what a client names against the trade lists, the units and the clock."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import UTC, datetime, timedelta
from typing import NoReturn

from rapidfuzz import process

from baylore_kb import values as kb
from baylore_kb.errors import BayloreError
from baylore_kb.trade.model import Condition, Trade
from baylore_kb.trade.own.ids import is_own
from baylore_kb.units import convert
from baylore_service.errors import BadValue
from baylore_service.wire.values import Measure, Reading

LISTS = {
    "system": "systems",
    "component": "systems",
    "symptom": "symptoms",
    "quantity": "quantities",
    "test": "tests",
    "cause": "causes",
    "trait": "systems",
}
SLACK = timedelta(minutes=10)  # phones' clocks run ahead


def refuse(detail: str, *, field: str, remedy: str) -> NoReturn:
    """Raise BadValue with the field in front of the detail."""
    raise BadValue(f"{field}: {detail}", field=field, remedy=remedy)


def listed(value: str, ids: Iterable[str], *, field: str, what: str) -> str:
    """`value` when it is one of `ids`. Raises BadValue that offers the nearest ids."""
    known = set(ids)
    if value in known:
        return value
    near = [found[0] for found in process.extract(value, known, limit=3, score_cutoff=60)]
    remedy = f"did you mean {' or '.join(near)}?" if near else f"use an id of GET /api/trade/{LISTS[what]}"
    refuse(f"unknown {what} {value!r}", field=field, remedy=remedy)


def quantity_of(name: str, trade: Trade, *, field: str) -> str:
    """The quantity id of an id or one of its other names."""
    name = trade.also_quantities.get(name, name)
    return listed(name, trade.quantities, field=field, what="quantity")


def unit_fits(measure: Measure | Reading, unit: str, *, accepted: Iterable[str] = (), field: str) -> None:
    """Raises BadValue unless the number can be given in that unit instead."""
    try:
        convert(measure.value, measure.unit, unit, accepted=accepted)
    except BayloreError as error:
        refuse(error.message, field=f"{field}.unit" if field else "unit", remedy=error.remedy)


def condition_name(name: str, trade: Trade, *, quantity: str | None = None) -> str:
    """The condition a name stands for, of the quantity's own conditions first; unknown names stay."""
    if name in trade.conditions:
        return name
    own = trade.quantities[quantity].conditions if quantity else ()
    named = (each for each in own if each in trade.conditions and name in trade.conditions[each].also)
    return next(named, trade.also_conditions.get(name, name))


def condition_value(
    value: float | bool | str | Measure, condition: Condition | None, *, field: str
) -> kb.ConditionValue:
    """A condition as the engine takes it; a measure of a listed one must be in a unit it can have."""
    if not isinstance(value, Measure):
        return value
    if condition is not None and condition.unit is not None:
        unit_fits(value, condition.unit, field=field)
    return kb.Measure(value.value, value.unit)


def cause_of(value: str, trade: Trade, *, field: str) -> str:
    """A listed cause, or one of the shop's own (`own.<words>`)."""
    return value if is_own(value) else listed(value, trade.causes, field=field, what="cause")


def system_of(value: str, trade: Trade, *, field: str) -> str:
    """A listed system, or one of the shop's own (`own.<words>`)."""
    return value if is_own(value) else listed(value, trade.systems, field=field, what="system")


def skipped_test(value: str, trade: Trade, *, field: str) -> str:
    """A listed test by its id or another name of it, or one of the shop's own (`own.<words>`)."""
    if is_own(value):
        return value
    return listed(trade.also_tests.get(value, value), trade.tests, field=field, what="test")


def own_cause_id(title: str) -> str:
    """The id of a cause in the shop's own words; the same words give the same id."""
    return "own." + "_".join(re.findall(r"\w+", title.casefold()))[:120]


def outcome_of(test: str, outcome: str, trade: Trade, *, field: str) -> str:
    """An outcome that the test can show."""
    known = [each.id for each in trade.tests[test].outcomes]
    if outcome in known:
        return outcome
    refuse(f"test {test!r} has no outcome {outcome!r}", field=field, remedy=f"use one of: {', '.join(known)}")


def not_in_future(moment: datetime | None, now: datetime, *, field: str) -> datetime | None:
    """The moment in UTC. Raises BadValue when it lies ahead of the clock."""
    if moment is None:
        return None
    if moment > now + SLACK:
        refuse(f"{moment.isoformat()} lies in the future", field=field, remedy="give the time it happened")
    return moment.astimezone(UTC)


def model_year(year: int | None, now: datetime, *, field: str) -> int | None:
    """A model year up to next year's."""
    if year is None or year <= now.year + 1:
        return year
    refuse(f"{year} lies in the future", field=field, remedy=f"give a year from 1950 to {now.year + 1}")


def words_of(table: Mapping[str, object], values: Iterable[str], *, field: str, what: str) -> tuple[str, ...]:
    """Each listed value once, in the order given."""
    return tuple(
        dict.fromkeys(
            listed(value, table, field=f"{field}[{at}]", what=what) for at, value in enumerate(values)
        )
    )
