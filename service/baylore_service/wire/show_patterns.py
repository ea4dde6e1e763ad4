"""From what the engine counted over all cases to what is answered."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from baylore_kb.parts import ComponentParts, SourceParts, Way
from baylore_kb.recurrence.count import Recurrences
from baylore_kb.recurrence.rows import Recurrence
from baylore_kb.trade.model import Trade
from baylore_service.wire import patterns as p


def recurrences(found: Recurrences, *, since: datetime | None, until: datetime | None) -> p.Recurrences:
    """Failures that come back, in the time that was asked for."""
    return p.Recurrences(
        by=found.by,
        since=since,
        until=until,
        cases=found.cases,
        rows=tuple(recurrence(row) for row in found.rows),
        notes=found.notes,
    )


def recurrence(row: Recurrence) -> p.RecurrenceRow:
    """One failure that comes back."""
    return p.RecurrenceRow(
        key=dict(row.key),
        title=row.title,
        observed=row.observed,
        expected=row.expected,
        ratio=row.ratio,
        low=row.low,
        high=row.high,
        signal=row.signal,
        first=row.first,
        last=row.last,
        median_minutes=row.median_minutes,
        median_cost=row.median_cost,
        comebacks=row.comebacks,
        odometer_km=row.odometer_km,
        cases=row.cases,
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
        sources=tuple(source(each) for each in held.sources),
        cheapest_way=held.cheapest_way,
        undecided=held.undecided,
        says=held.says,
        way=way(held.way) if held.way else None,
        safety=held.safety,
    )


def way(chosen: Way) -> p.PartWay:
    """Which source to fit first and what then."""
    return p.PartWay(chosen.first, chosen.tries, chosen.then, chosen.cost, chosen.sure)


def source(row: SourceParts) -> p.SourceRow:
    """Outcomes of one source."""
    return p.SourceRow(
        source=row.source,
        tried=row.tried,
        cured=row.cured,
        partly=row.partly,
        no_change=row.no_change,
        failed_later=row.failed_later,
        elsewhere=row.elsewhere,
        success=row.success,
        low=row.low,
        high=row.high,
        median_price=row.median_price,
        expected_cost=row.expected_cost,
        life_km=row.life_km,
        per_1000_km=row.per_1000_km,
    )
