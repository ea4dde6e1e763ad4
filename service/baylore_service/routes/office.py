"""What the office reads, and what the bay is told of a model."""

from __future__ import annotations

from typing import Annotated

from litestar import Controller, Response, get
from litestar.di import Provide
from litestar.params import QueryParameter

from baylore_service.desk import office as desk
from baylore_service.desk import report
from baylore_service.routes.access import Asking, TheHouse, manager_only
from baylore_service.routes.advice import thought
from baylore_service.routes.filed import filed
from baylore_service.routes.wanted import (
    Form,
    Month,
    NeededModel,
    OfficeTable,
    Reckoned,
    provide_costs,
)
from baylore_service.wire import office as wo
from baylore_service.wire import tables
from baylore_service.wire.print_report import STYLE_SOURCE, page

Asked = Annotated[int, QueryParameter(ge=1, le=400, description="Most closed cases to ask about.")]


class OfficeRoutes(Controller):
    """Money, minutes, the shelf and the memory."""

    path = "/api"
    tags = ("office",)
    dependencies = {"costs": Provide(provide_costs, sync_to_thread=False)}

    @get("/watch", sync_to_thread=True)
    def watch(self, *, house: TheHouse, actor: Asking, model: NeededModel) -> wo.WatchList:
        """The three things this shop keeps finding on a model, and how often it was something else."""
        return wo.watch_list(model, desk.watch(house, actor, model))

    @get("/office", sync_to_thread=True, guards=[manager_only])
    def office(self, *, house: TheHouse, actor: Asking) -> wo.Overview:
        """First-visit cures, what was given away, diagnosis minutes, gaps of the memory (managers)."""
        return wo.overview(desk.overview(house, actor), currency=actor.shop.currency)

    @get("/office/table", sync_to_thread=True, guards=[manager_only], media_type="text/csv")
    def table(
        self, *, house: TheHouse, actor: Asking, of: OfficeTable, form: Form = "csv"
    ) -> Response[bytes]:
        """A table of `/api/office` for a spreadsheet: `csv`, or `jsonl` with one object a line (managers)."""
        found = wo.overview(desk.overview(house, actor), currency=actor.shop.currency)
        return filed(tables.OFFICE[of](found), form, name=of)

    @get("/shelf", sync_to_thread=True, guards=[manager_only])
    def shelf(self, *, house: TheHouse, actor: Asking, costs: Reckoned) -> wo.ShelfAdvice:
        """Parts worth keeping, from demand over the time an order takes (managers)."""
        found = desk.kept_parts(house, actor, costs)
        return wo.shelf_advice(found, costs, currency=actor.shop.currency)

    @get("/season", sync_to_thread=True, guards=[manager_only])
    def season(self, *, house: TheHouse, actor: Asking, costs: Reckoned) -> wo.Season:
        """What failed in the season ahead a year ago, and how many of which parts to have (managers)."""
        found = desk.coming(house, actor, costs)
        return wo.season(found, currency=actor.shop.currency, lead_days=costs.lead_days)

    @get("/memory", guards=[manager_only])
    async def memory(self, *, house: TheHouse, actor: Asking, ask: Asked = 40) -> wo.Memory:
        """How often the memory is right, on closed cases each asked without itself (managers)."""
        return await thought(house, lambda: wo.memory(desk.memory(house, actor, most_asked=ask)))

    @get("/report", sync_to_thread=True, guards=[manager_only], media_type="text/html")
    def report(
        self, *, house: TheHouse, actor: Asking, costs: Reckoned, month: Month = None
    ) -> Response[bytes]:
        """The month on one page to print: what stands out, parts, cures, money, the season (managers)."""
        found = report.monthly(house, actor, month, costs)
        headers = {
            "Content-Security-Policy": f"default-src 'none'; style-src {STYLE_SOURCE}",
            "Content-Disposition": f'attachment; filename="baylore-{found.month}.html"',
        }
        return Response(page(found), media_type="text/html; charset=utf-8", headers=headers)
