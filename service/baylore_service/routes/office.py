"""What the office reads, and what the bay is told of a model."""

from __future__ import annotations

from typing import Annotated

from litestar import Controller, Response, get
from litestar.params import QueryParameter

from baylore_kb.office import Costs
from baylore_service.desk import office as desk
from baylore_service.desk import report
from baylore_service.routes.access import Asking, TheHouse, manager_only
from baylore_service.routes.advice import thought
from baylore_service.routes.wanted import Month, NeededModel
from baylore_service.wire import office as wo
from baylore_service.wire.print_report import STYLE_SOURCE, page

Rush = Annotated[float, QueryParameter(ge=0, le=100_000, description="What being without the part costs.")]
Holding = Annotated[
    float, QueryParameter(ge=0.001, le=10, description="Share of its price a part costs a year on the shelf.")
]
LeadDays = Annotated[float, QueryParameter(ge=0.1, le=365, description="Days an order takes.")]
Asked = Annotated[int, QueryParameter(ge=1, le=400, description="Most closed cases to ask about.")]


class OfficeRoutes(Controller):
    """Money, minutes, the shelf and the memory."""

    path = "/api"
    tags = ("office",)

    @get("/watch", sync_to_thread=True)
    def watch(self, *, house: TheHouse, actor: Asking, model: NeededModel) -> wo.WatchList:
        """The three things this shop keeps finding on a model, and how often it was something else."""
        return wo.watch_list(model, desk.watch(house, actor, model))

    @get("/office", sync_to_thread=True, guards=[manager_only])
    def office(self, *, house: TheHouse, actor: Asking) -> wo.Overview:
        """First-visit cures, what was given away, diagnosis minutes, gaps of the memory (managers)."""
        return wo.overview(desk.overview(house, actor), currency=actor.shop.currency)

    @get("/shelf", sync_to_thread=True, guards=[manager_only])
    def shelf(
        self,
        *,
        house: TheHouse,
        actor: Asking,
        rush: Rush = 40.0,
        holding: Holding = 0.25,
        lead_days: LeadDays = 7.0,
    ) -> wo.ShelfAdvice:
        """Parts worth keeping, from demand over the time an order takes (managers)."""
        found = desk.kept_parts(house, actor, Costs(rush, holding, lead_days))
        return wo.ShelfAdvice(actor.shop.currency, rush, holding, lead_days, wo.shelf_rows(found))

    @get("/memory", guards=[manager_only])
    async def memory(self, *, house: TheHouse, actor: Asking, ask: Asked = 40) -> wo.Memory:
        """How often the memory is right, on closed cases each asked without itself (managers)."""
        return await thought(house, lambda: wo.memory(desk.memory(house, actor, most_asked=ask)))

    @get("/report", sync_to_thread=True, guards=[manager_only], media_type="text/html")
    def report(self, *, house: TheHouse, actor: Asking, month: Month = None) -> Response[bytes]:
        """The month on one page to print: what stands out, parts, cures, money and minutes (managers)."""
        found = report.monthly(house, actor, month)
        headers = {
            "Content-Security-Policy": f"default-src 'none'; style-src {STYLE_SOURCE}",
            "Content-Disposition": f'attachment; filename="baylore-{found.month}.html"',
        }
        return Response(page(found), media_type="text/html; charset=utf-8", headers=headers)
