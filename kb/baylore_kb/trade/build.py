"""Turn the rows of the data files into the frozen records of the trade."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, Protocol, TypeVar

from baylore_kb.trade import rows
from baylore_kb.trade.files import Rows
from baylore_kb.trade.model import (
    Abbreviation,
    Cause,
    Caution,
    Component,
    Condition,
    Expected,
    LikelihoodRow,
    Outcome,
    OutcomeRule,
    Quantity,
    Sense,
    Symptom,
    System,
    Test,
    Trade,
    VehicleState,
)


class _Named(Protocol):
    @property
    def id(self) -> str: ...


N = TypeVar("N", bound=_Named)


def build(read: Rows) -> Trade:
    """The trade of these rows; references are not checked here."""
    components = [_component(c, s.id) for s in read.systems for c in s.components]
    return Trade(
        systems=_by_id(_system(row) for row in read.systems),
        components=_by_id(components),
        traits=read.traits,
        modes=read.modes,
        symptoms=_by_id(_symptom(row) for row in read.symptoms),
        abbreviations=tuple(_abbreviation(row) for row in read.abbreviations),
        conditions=_by_id(_condition(row) for row in read.conditions),
        quantities=_by_id(_quantity(row) for row in read.quantities),
        tests=_by_id(_test(row) for row in read.tests),
        causes=_by_id(_cause(row, read.prices) for row in read.causes),
        cautions=_by_id(Caution(**_fields(row)) for row in read.cautions),
        also_quantities=_also(read.quantities),
        also_tests=_also(read.tests),
        also_conditions=_also(read.conditions),
        version=read.version,
        phrases={said: row.read for row in read.phrases for said in row.said},
    )


def _by_id(records: Iterable[N]) -> dict[str, N]:
    return {record.id: record for record in records}


def _fields(row: rows.Row) -> dict[str, Any]:
    return {name: getattr(row, name) for name in row.__struct_fields__}


def _also(entries: Iterable[rows.QuantityRow | rows.TestRow | rows.ConditionRow]) -> dict[str, str]:
    names: dict[str, str] = {}
    for entry in entries:
        for name in entry.also:
            names.setdefault(name, entry.id)
    return names


def _component(row: rows.ComponentRow, system: str) -> Component:
    return Component(**_fields(row), system=system)


def _system(row: rows.SystemRow) -> System:
    return System(**_fields(row) | {"components": tuple(c.id for c in row.components)})


def _symptom(row: rows.SymptomRow) -> Symptom:
    return Symptom(**_fields(row))


def _abbreviation(row: rows.AbbreviationRow) -> Abbreviation:
    senses = tuple(Sense(**_fields(sense)) for sense in row.senses)
    return Abbreviation(forms=row.forms, kind=row.kind, senses=senses)


def _condition(row: rows.ConditionRow) -> Condition:
    return Condition(**_fields(row))


def _quantity(row: rows.QuantityRow) -> Quantity:
    fields = _fields(row)
    limits = fields.pop("hard_limits")
    del fields["also"]
    fields["expected"] = _expected(row.expected)
    return Quantity(**fields, hard_low=limits.low, hard_high=limits.high)


def _expected(row: rows.ExpectedRow) -> Expected:
    points = {name: tuple(sorted(line.items())) for name, line in row.points.items()}
    return Expected(**_fields(row) | {"points": points})


def _test(row: rows.TestRow) -> Test:
    fields = _fields(row)
    minutes = fields.pop("minutes")
    del fields["also"]
    fields["state"] = VehicleState(**_fields(row.state))
    fields["outcomes"] = tuple(_outcome(outcome) for outcome in row.outcomes)
    fields["likelihood"] = tuple(LikelihoodRow(**_fields(line)) for line in row.likelihood)
    return Test(**fields, setup_min=minutes.setup, do_min=minutes.do)


def _outcome(row: rows.OutcomeRow) -> Outcome:
    rule = OutcomeRule(**_fields(row.reading)) if row.reading else None
    return Outcome(id=row.id, means=row.means, rule=rule, names_part=row.names_part)


def _cause(row: rows.CauseRow, prices: rows.PricesRow) -> Cause:
    fields = _fields(row)
    hours = fields.pop("labour_hours")
    price = _price(row, prices)
    return Cause(**fields, labour_low_h=hours.low, labour_high_h=hours.high, part_price=price)


def _price(row: rows.CauseRow, prices: rows.PricesRow) -> float | None:
    """The cause's own price, else the price of repairs of its mode, else its component's price."""
    if row.id in prices.by_cause:
        return prices.by_cause[row.id]
    if row.mode in prices.by_mode:
        return prices.by_mode[row.mode]
    return prices.parts.get(row.component)
