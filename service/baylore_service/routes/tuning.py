"""How the shop's own tuning did beside the shipped one."""

from __future__ import annotations

from litestar import Controller, get

from baylore_service.desk import tuning as desk
from baylore_service.routes.access import Asking, TheHouse, manager_only
from baylore_service.wire import own_lists as wo


class TuningRoutes(Controller):
    """What the shop's cases taught."""

    path = "/api/tuning"
    tags = ("patterns",)

    @get(sync_to_thread=True, guards=[manager_only])
    def tuning(self, *, house: TheHouse, actor: Asking) -> wo.Tuning:
        """The last trial of the shop's own tuning (managers)."""
        return wo.tuning(desk.last_trial(house, actor))
