"""From what the engine counted over all cases to what is answered."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from msgspec import convert

from baylore_kb.parts import ComponentParts
from baylore_kb.recurrence import PartLife, Recurrence, Recurrences, month_name
from baylore_kb.trade.model import Trade
from baylore_service.desk.manager import Timeline
from baylore_service.store.records.office import NeutralVisits
from baylore_service.wire import patterns as p
from baylore_service.wire.say_patterns import say_since


def recurrences(found: Recurrences, *, since: datetime | None, until: datetime | None) -> p.Recurrences:
    """Failures that come back, in the time that was asked for."""
    return p.Recurrences(
        by=found.by,
        since=since,
        until=until,
        cases=found.cases,
        pairs=found.pairs,
        rows=convert(found.rows, tuple[p.RecurrenceRow, ...], from_attributes=True),
        notes=found.notes,
    )


def recurrence(row: Recurrence) -> p.RecurrenceRow:
    """One failure that comes back."""
    return convert(row, p.RecurrenceRow, from_attributes=True)


def timeline(found: Timeline) -> p.Timeline:
    """One row month by month; the month after which the rate changed carries the chance of it."""
    months = found.months
    change = months.change
    chances = (*change.chances, 0.0) if change else (0.0,) * len(months.counts)
    rows = zip(months.counts, months.expected, chances, strict=True)
    return p.Timeline(
        row=recurrence(found.row),
        months=tuple(p.Month(month_name(months.start + at), *each) for at, each in enumerate(rows)),
        says=say_since(found.row),
    )


def life(found: PartLife) -> p.Life:
    """How far a part runs."""
    return convert(found, p.Life, from_attributes=True)


def visits(found: Iterable[NeutralVisits]) -> p.Visits:
    """Counts of neutral visits."""
    return p.Visits(
        tuple(p.VisitCount(each.month, each.model, each.count, each.make or None) for each in found)
    )


def parts(found: Iterable[ComponentParts], trade: Trade, *, currency: str) -> p.PartsReport:
    """Outcomes by component and source."""
    return p.PartsReport(currency, tuple(component(each, trade) for each in found))


def component(held: ComponentParts, trade: Trade) -> p.ComponentParts:
    """Outcomes of one component, with its title."""
    listed = trade.components.get(held.component)
    return p.ComponentParts(
        component=held.component,
        title=listed.title if listed else held.component,
        sources=convert(held.sources, tuple[p.SourceRow, ...], from_attributes=True),
        cheapest_way=held.cheapest_way,
        undecided=held.undecided,
        says=held.says,
        way=convert(held.way, p.PartWay | None, from_attributes=True),
        safety=held.safety,
    )
