"""Sharing a case with the other shops of the service, and what they saw of a complaint."""

from __future__ import annotations

from uuid import UUID

from litestar import Controller, get, patch, post
from litestar.params import FromPath, JSONBody

from baylore_service.desk import sharing as desk
from baylore_service.routes.access import Asking, TheHouse, TheReader
from baylore_service.routes.advice import thought
from baylore_service.routes.intake import MERGE_PATCH
from baylore_service.routes.tags import IfMatch, needed_revision
from baylore_service.wire import sharing as ws
from baylore_service.wire import show, show_advice
from baylore_service.wire.complaint import Complaint


class SharingRoutes(Controller):
    """A case as others may see it: looked at, shared, taken back."""

    path = "/api/cases/{case_id:uuid}/sharing"
    tags = ("sharing",)

    @get(sync_to_thread=True)
    def see_sharing(self, case_id: FromPath[UUID], *, house: TheHouse, actor: Asking) -> ws.Sharing:
        """A case as other shops would see it, what is taken out, and whether they see it."""
        return shown(desk.preview(house, actor, str(case_id)))

    @patch(sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def share_case(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[ws.SharingPatch],
        *,
        house: TheHouse,
        actor: Asking,
        if_match: IfMatch = None,
    ) -> ws.Sharing:
        """Share the case as it was seen, the revision in If-Match, or take it back."""
        if data.shared:
            return shown(desk.share(house, actor, str(case_id), seen_revision=needed_revision(if_match)))
        desk.withdraw(house, actor, str(case_id))
        return shown(desk.preview(house, actor, str(case_id)))


@post("/api/advice/elsewhere", status_code=200, tags=["sharing"], opt={"thinks": True})
async def advise_elsewhere(
    data: JSONBody[Complaint], *, house: TheHouse, actor: Asking, reader: TheReader
) -> ws.Elsewhere:
    """Like cases of the other shops that share; they count for no cause."""

    def reckoned() -> ws.Elsewhere:
        complaint = reader.complaint(data, skill=actor.member.skill)
        found = desk.elsewhere(house, actor, complaint, limit=data.limit)
        return ws.Elsewhere(tuple(map(show_advice.case_row, found)))

    return await thought(house, reckoned)


def shown(seen: desk.Preview) -> ws.Sharing:
    """What sharing shows, as answered."""
    return ws.Sharing(
        case=show.case(seen.case),
        taken_out=tuple(ws.TakenOut(t.field, t.blanked.kind, t.blanked.was) for t in seen.taken),
        revision=seen.revision,
        shared=seen.sharing.at if seen.sharing else None,
        changed_since=seen.changed_since,
    )
