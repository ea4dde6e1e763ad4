"""The month on one page: the same figures as the lists, gathered."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime

from baylore_kb.office import Costs, Season
from baylore_kb.parts import ComponentParts
from baylore_kb.recurrence import Recurrences
from baylore_service.desk import alerts, manager, office
from baylore_service.desk.house import House
from baylore_service.desk.office import Office
from baylore_service.desk.roles import only_managers
from baylore_service.errors import BadValue
from baylore_service.store.records import Actor, Shop
from baylore_service.store.records.office import KeptAlert

ROWS = 15


@dataclass(frozen=True, slots=True)
class Report:
    """A month's page: new alerts, what stands out up to its end, parts, what the office reads,
    and the season ahead of its end.
    """

    shop: Shop
    month: str
    made: datetime
    alerts: tuple[KeptAlert, ...]
    standing: Recurrences
    parts: tuple[ComponentParts, ...]
    office: Office
    season: Season
    titles: Mapping[str, str]


def monthly(house: House, actor: Actor, month: str | None, costs: Costs) -> Report:
    """The page of a month (as 2026-03), of this one where none is named. Raises WrongRole, BadValue.

    What to have ready for the season is reckoned with `costs`.
    """
    only_managers(actor, "print the month")
    now = house.now()
    month = month or now.strftime("%Y-%m")
    start, end = _span(month)
    if start > now:
        raise BadValue(f"month: {month} has not begun", field="month", remedy="name this month or one before")
    question = manager.Question(("model", "system"), until=end if end < now else None, limit=ROWS)
    raised = [one for one in alerts.listed(house, actor, []) if start <= one.raised < end]
    return Report(
        actor.shop,
        month,
        now,
        tuple(raised),
        manager.recurrences(house, actor, question),
        manager.parts(house, actor)[:ROWS],
        office.overview(house, actor),
        office.coming(house, actor, costs, at=min(now, end)),
        {id: each.title for id, each in house.trade_of(actor).components.items()},
    )


def _span(month: str) -> tuple[datetime, datetime]:
    """The beginning of a month and of the next, in UTC."""
    year, number = int(month[:4]), int(month[5:])
    if not 1 <= year <= 9998:
        raise BadValue(f"month: {month} is no month", field="month", remedy="write it as 2026-03")
    after = (year + 1, 1) if number == 12 else (year, number + 1)
    return datetime(year, number, 1, tzinfo=UTC), datetime(*after, 1, tzinfo=UTC)
