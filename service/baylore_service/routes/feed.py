"""What phones keep: the change log and the trade lists."""

from __future__ import annotations

from typing import Annotated, Any, get_args

from litestar import Controller, Response, get
from litestar.params import FromPath, QueryParameter

from baylore_service.desk import feed as desk
from baylore_service.desk.reasoning import HandedOut, Part
from baylore_service.errors import NotFound
from baylore_service.routes.access import Asking, TheHandouts, TheHouse, TheLists
from baylore_service.routes.tags import KEEP, IfNoneMatch, known_to_client, not_modified
from baylore_service.wire import feed as wf
from baylore_service.wire import show

After = Annotated[int, QueryParameter(ge=0, le=2**53, description="The number of the last change seen.")]
PARTS: tuple[Part, ...] = get_args(Part)
Many = Annotated[int, QueryParameter(ge=1, le=500)]


class FeedRoutes(Controller):
    """Offline copies."""

    path = "/api"
    tags = ("offline copies",)

    @get("/changes", sync_to_thread=True)
    def changes(self, *, house: TheHouse, actor: Asking, after: After = 0, limit: Many = 200) -> wf.Changes:
        """Changes after a number, oldest first."""
        found, reached, latest = desk.changes(house, actor, after=after, limit=limit)
        return wf.Changes(tuple(show.change(each) for each in found), reached, latest)

    @get("/trade/{name:str}", sync_to_thread=True)
    def trade(
        self,
        name: FromPath[str],
        *,
        house: TheHouse,
        lists: TheLists,
        actor: Asking,
        if_none_match: IfNoneMatch = None,
    ) -> Response[wf.TradeList]:
        """A list of the trade knowledge, with what the shop has added."""
        return answered_list(lists.get(name, house.trade_of(actor)), if_none_match)

    @get("/reasoning/{part:str}", sync_to_thread=True)
    def reasoning(
        self,
        part: FromPath[str],
        *,
        house: TheHouse,
        handouts: TheHandouts,
        actor: Asking,
        if_none_match: IfNoneMatch = None,
    ) -> Response[dict[str, Any]]:
        """The figures a phone reckons with without signal: `lists` of the engine, `shop` of its own cases."""
        for known in PARTS:
            if part == known:
                return answered_part(handouts.get(house, actor, known), if_none_match)
        raise NotFound("part", part, remedy=f"use one of: {', '.join(PARTS)}")


def answered_part(found: HandedOut, if_none_match: str | None) -> Response[dict[str, Any]]:
    """A part as it was written out, or that what the client has is still so."""
    tag = f'"{found.tag}"'
    if known_to_client(tag, if_none_match):
        return not_modified(tag)
    body: Any = found.body
    return Response(body, media_type="application/json", headers={"ETag": tag, "Cache-Control": KEEP})


def answered_list(found: wf.TradeList, if_none_match: str | None) -> Response[wf.TradeList]:
    """A list with its version, or that what the client has is still so."""
    tag = f'"{found.version}"'
    if known_to_client(tag, if_none_match):
        return not_modified(tag)
    return Response(found, headers={"ETag": tag, "Cache-Control": KEEP})
