"""The shop's own tests and causes beside the listed ones, and its own minutes of listed tests."""

from __future__ import annotations

from dataclasses import replace
from typing import Any, cast

from litestar import Controller, Response, delete, get, patch, post
from litestar.params import FromPath, JSONBody

from baylore_service.desk import own_lists as desk
from baylore_service.routes.access import Asking, TheHouse, TheLists, manager_only
from baylore_service.routes.feed import answered_list
from baylore_service.routes.intake import MERGE_PATCH
from baylore_service.routes.keys import MaybeReceipt
from baylore_service.routes.tags import IfNoneMatch
from baylore_service.store.records import Kept, Receipt
from baylore_service.wire import own_lists as wo
from baylore_service.wire.decode import encode
from baylore_service.wire.feed import TradeList
from baylore_service.wire.patch import given_fields
from baylore_service.wire.trade_lists import item_of

Item = dict[str, Any]


def rendered(result: object) -> bytes:
    """An entry as the lists hold it."""
    listed = cast(desk.Listed, result)
    return encode(item_of(listed.record, listed.trade))


def kept_as_item(receipt: Receipt | None) -> Receipt | None:
    """What to keep of a request about an entry."""
    return receipt and replace(receipt, render=rendered)


def answer(result: desk.Listed | Kept, *, status: int = 200) -> Response[Item]:
    """An entry as answered, or the kept answer of the same request."""
    headers = {"Idempotent-Replay": "true"} if isinstance(result, Kept) and result.replayed else {}
    body = result.body if isinstance(result, Kept) else rendered(result)
    return Response(cast(Item, body), status_code=status, headers=headers, media_type="application/json")


class OwnTestRoutes(Controller):
    """Tests of the shop."""

    path = "/api/trade/tests"
    tags = ("own lists",)

    # GET /api/trade/{name} documents it; this path is taken by the other methods.
    @get(sync_to_thread=True, include_in_schema=False)
    def tests(
        self, *, house: TheHouse, actor: Asking, lists: TheLists, if_none_match: IfNoneMatch = None
    ) -> Response[TradeList]:
        """The tests, the shop's own among them."""
        return answered_list(lists.get("tests", house.trade_of(actor)), if_none_match)

    @post(status_code=201, sync_to_thread=True)
    def add_test(
        self, data: JSONBody[wo.NewOwnTest], *, house: TheHouse, actor: Asking, receipt: MaybeReceipt
    ) -> Response[Item]:
        """Add a test of the shop's own; it is offered from the next question on."""
        made = desk.add_test(house, actor, wo.own_test(data), receipt=kept_as_item(receipt))
        return answer(made, status=201)

    @patch("/{test_id:str}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_test(
        self,
        test_id: FromPath[str],
        data: JSONBody[wo.OwnTestPatch],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
    ) -> Response[Item]:
        """Change a test of the shop's own, or the minutes of a listed one."""
        changes = given_fields(data)
        return answer(desk.amend_test(house, actor, test_id, changes, receipt=kept_as_item(receipt)))

    @delete("/{test_id:str}", sync_to_thread=True, guards=[manager_only])
    def remove_test(self, test_id: FromPath[str], *, house: TheHouse, actor: Asking) -> None:
        """Take a test of the shop's own off the list (managers); cases that did it keep it."""
        desk.remove_test(house, actor, test_id)


class OwnCauseRoutes(Controller):
    """Causes of the shop."""

    path = "/api/trade/causes"
    tags = ("own lists",)

    # GET /api/trade/{name} documents it; this path is taken by the other methods.
    @get(sync_to_thread=True, include_in_schema=False)
    def causes(
        self, *, house: TheHouse, actor: Asking, lists: TheLists, if_none_match: IfNoneMatch = None
    ) -> Response[TradeList]:
        """The causes, the shop's own among them."""
        return answered_list(lists.get("causes", house.trade_of(actor)), if_none_match)

    @post(status_code=201, sync_to_thread=True)
    def add_cause(
        self, data: JSONBody[wo.NewOwnCause], *, house: TheHouse, actor: Asking, receipt: MaybeReceipt
    ) -> Response[Item]:
        """Add a cause of the shop's own; it is reckoned with from the next question on."""
        made = desk.add_cause(house, actor, wo.own_cause(data), receipt=kept_as_item(receipt))
        return answer(made, status=201)

    @patch("/{cause_id:str}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_cause(
        self,
        cause_id: FromPath[str],
        data: JSONBody[wo.OwnCausePatch],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
    ) -> Response[Item]:
        """Change a cause of the shop's own."""
        changes = given_fields(data)
        return answer(desk.amend_cause(house, actor, cause_id, changes, receipt=kept_as_item(receipt)))

    @delete("/{cause_id:str}", sync_to_thread=True, guards=[manager_only])
    def remove_cause(self, cause_id: FromPath[str], *, house: TheHouse, actor: Asking) -> None:
        """Take a cause of the shop's own off the list (managers); cases closed with it keep its words."""
        desk.remove_cause(house, actor, cause_id)
