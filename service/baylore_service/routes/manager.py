"""What the manager wants to see: recurring failures, and which parts cure."""

from __future__ import annotations

from dataclasses import replace

from litestar import Controller, Response, get, post
from litestar.di import Provide
from litestar.params import JSONBody

from baylore_service.desk import manager as desk
from baylore_service.desk import visits
from baylore_service.desk.house import House
from baylore_service.routes.access import Asking, TheHouse, TheReader, manager_only
from baylore_service.routes.filed import filed
from baylore_service.routes.wanted import (
    MOST_ROWS,
    SHOWN_ROWS,
    Component,
    Counted,
    Form,
    MaybeComponent,
    NeededModel,
    provide_counted,
    provide_listed,
)
from baylore_service.store.records import Actor
from baylore_service.store.records.office import NeutralVisits
from baylore_service.wire import patterns as wp
from baylore_service.wire import show_patterns, tables
from baylore_service.wire.read import Reader


class ManagerRoutes(Controller):
    """Patterns over all cases."""

    path = "/api"
    tags = ("patterns",)
    dependencies = {
        "counted": Provide(provide_counted, sync_to_thread=False),
        "listed": Provide(provide_listed, sync_to_thread=False),
    }

    @get("/recurrences", sync_to_thread=True, guards=[manager_only])
    def recurrences(self, *, house: TheHouse, actor: Asking, listed: Counted) -> wp.Recurrences:
        """Failures that come back more than expected (managers); names leave only the rows that have them."""
        found = desk.recurrences(house, actor, replace(listed, limit=listed.limit or SHOWN_ROWS))
        return show_patterns.recurrences(found, since=listed.since, until=listed.until)

    @get("/recurrences/table", sync_to_thread=True, guards=[manager_only], media_type="text/csv")
    def table(
        self, *, house: TheHouse, actor: Asking, listed: Counted, form: Form = "csv"
    ) -> Response[bytes]:
        """The rows of `/api/recurrences` for a spreadsheet: `csv`, or `jsonl` with one object a line."""
        found = desk.recurrences(house, actor, replace(listed, limit=listed.limit or MOST_ROWS))
        return filed(tables.recurrence_table(found), form, name="recurrences")

    @get("/recurrences/months", sync_to_thread=True, guards=[manager_only])
    def months(self, *, house: TheHouse, actor: Asking, counted: Counted) -> wp.Timeline:
        """One row month by month, with the chance of each month to be the one its rate changed after."""
        return show_patterns.timeline(desk.timeline(house, actor, counted))

    @get("/recurrences/life", sync_to_thread=True, guards=[manager_only])
    def life(
        self, *, house: TheHouse, actor: Asking, reader: TheReader, model: NeededModel, component: Component
    ) -> wp.Life:
        """How far a part runs on a model's cars, given that each was alive when first seen here."""
        part = reader.component(component, field="component")
        return show_patterns.life(desk.life(house, actor, model, part))

    @get("/visits", sync_to_thread=True, guards=[manager_only])
    def visits(self, *, house: TheHouse, actor: Asking) -> wp.Visits:
        """Visits for neutral reasons (oil, tyres), by month and model."""
        return show_patterns.visits(visits.every(house, actor))

    @post("/visits", status_code=200, sync_to_thread=True, guards=[manager_only])
    def count_visits(self, data: JSONBody[wp.VisitCount], *, house: TheHouse, actor: Asking) -> wp.Visits:
        """Record how many cars of a model came for neutral reasons in a month; said again it replaces."""
        counted = NeutralVisits(data.month, (data.make or "").strip(), data.model.strip(), data.count)
        return show_patterns.visits(visits.count(house, actor, counted))

    @get("/parts", sync_to_thread=True)
    def parts(
        self, *, house: TheHouse, actor: Asking, reader: TheReader, component: MaybeComponent = None
    ) -> wp.PartsReport:
        """Outcomes of parts by component and source."""
        return _parts(house, actor, reader, component)

    @get("/parts/table", sync_to_thread=True, media_type="text/csv")
    def parts_table(
        self,
        *,
        house: TheHouse,
        actor: Asking,
        reader: TheReader,
        component: MaybeComponent = None,
        form: Form = "csv",
    ) -> Response[bytes]:
        """The rows of `/api/parts` for a spreadsheet: `csv`, or `jsonl` with one object a line."""
        return filed(tables.parts_table(_parts(house, actor, reader, component)), form, name="parts")


def _parts(house: House, actor: Actor, reader: Reader, component: str | None) -> wp.PartsReport:
    if component is not None:
        reader.component(component, field="component")
    found = desk.parts(house, actor, component)
    return show_patterns.parts(found, reader.trade, currency=actor.shop.currency)
