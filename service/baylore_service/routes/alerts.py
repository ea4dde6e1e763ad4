"""What the manager hears of unasked, and where else it is sent."""

from __future__ import annotations

from typing import Annotated, Literal

from litestar import Controller, delete, get, patch, post
from litestar.params import FromPath, JSONBody, QueryParameter

from baylore_service.desk import alerts as desk
from baylore_service.desk import messages
from baylore_service.routes.access import Asking, TheHouse, manager_only
from baylore_service.routes.intake import MERGE_PATCH
from baylore_service.wire import alerts as wa

State = Annotated[
    Literal["open", "acknowledged", "muted", "over", "all"],
    QueryParameter(name="state", description="Alerts in this state; `over` no longer hold."),
]


class AlertRoutes(Controller):
    """Alerts of the shop."""

    path = "/api"
    tags = ("alerts",)
    guards = (manager_only,)

    @get("/alerts", sync_to_thread=True)
    def alerts(self, *, house: TheHouse, actor: Asking, in_state: State = "open") -> wa.Alerts:
        """What stands out, rises, fails as a source or comes back (managers)."""
        states = () if in_state == "all" else (in_state,)
        return wa.Alerts(tuple(wa.alert(each) for each in desk.listed(house, actor, states)))

    @patch("/alerts/{alert_id:str}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def settle(
        self, alert_id: FromPath[str], data: JSONBody[wa.AlertPatch], *, house: TheHouse, actor: Asking
    ) -> wa.Alert:
        """Acknowledge an alert, mute it with a reason, or open it again; it comes back if it grows."""
        return wa.alert(desk.settle(house, actor, alert_id, data.state, reason=data.reason))

    @get("/hooks", sync_to_thread=True)
    def hooks(self, *, house: TheHouse, actor: Asking) -> wa.Hooks:
        """Addresses that alerts are sent to, without their secrets."""
        return wa.Hooks(tuple(wa.hook(each) for each in messages.hooks(house, actor)))

    @post("/hooks", status_code=201, sync_to_thread=True)
    def add_hook(self, data: JSONBody[wa.NewHook], *, house: TheHouse, actor: Asking) -> wa.HookEntry:
        """Have alerts sent to an address; the secret they are signed with is told this once."""
        return wa.hook(messages.add_hook(house, actor, data.url), secret=True)

    @delete("/hooks/{hook_id:str}", sync_to_thread=True)
    def remove_hook(self, hook_id: FromPath[str], *, house: TheHouse, actor: Asking) -> None:
        """Send no more alerts to an address."""
        messages.remove_hook(house, actor, hook_id)

    @post("/hooks/{hook_id:str}/test", status_code=200, sync_to_thread=True)
    def test_hook(self, hook_id: FromPath[str], *, house: TheHouse, actor: Asking) -> wa.Sent:
        """Send a message that says it is a test at once, and tell what became of it."""
        return wa.ended(messages.test_hook(house, actor, hook_id))

    @get("/hooks/{hook_id:str}/deliveries", sync_to_thread=True)
    def sent_to(self, hook_id: FromPath[str], *, house: TheHouse, actor: Asking) -> wa.SentList:
        """Messages to an address: those that wait, and what became of the last thirty."""
        waiting, ended = messages.sent_to(house, actor, hook_id)
        return wa.SentList((*map(wa.waiting, waiting), *map(wa.ended, ended)))
