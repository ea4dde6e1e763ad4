"""What the manager wants to see: recurring failures, and which parts cure."""

from __future__ import annotations

from typing import Annotated

from litestar import Controller, get
from litestar.params import QueryParameter

from baylore_service.desk import manager as desk
from baylore_service.routes import asked
from baylore_service.routes.access import Asking, TheHouse, TheReader, manager_only
from baylore_service.wire import patterns as wp
from baylore_service.wire import show_patterns
from baylore_service.wire.fields import LISTED

By = Annotated[
    str,
    QueryParameter(
        max_length=60,
        pattern=r"^(model|system|component|cause)(,(model|system|component|cause))*$",
        description="What to count by.",
    ),
]
Component = Annotated[str | None, QueryParameter(max_length=120, pattern=LISTED)]


class ManagerRoutes(Controller):
    """Patterns over all cases."""

    path = "/api"
    tags = ("patterns",)

    @get("/recurrences", sync_to_thread=True, guards=[manager_only])
    def recurrences(
        self,
        *,
        house: TheHouse,
        actor: Asking,
        by: By = "model,system",
        since: asked.Since = None,
        until: asked.Until = None,
    ) -> wp.Recurrences:
        """Failures that come back more than expected (managers)."""
        keys = tuple(dict.fromkeys(by.split(",")))
        first, last = asked.moment(since, field="since"), asked.moment(until, field="until")
        found = desk.recurrences(house, actor, keys, since=first, until=last)
        return show_patterns.recurrences(found, since=first, until=last)

    @get("/parts", sync_to_thread=True)
    def parts(
        self, *, house: TheHouse, actor: Asking, reader: TheReader, component: Component = None
    ) -> wp.PartsReport:
        """Outcomes of parts by component and source."""
        if component is not None:
            reader.component(component, field="component")
        found = desk.parts(house, actor, component)
        return show_patterns.parts(found, reader.trade, currency=actor.shop.currency)
