"""Cases: open, list, read, change, delete."""

from __future__ import annotations

from typing import Annotated, Any, Literal
from uuid import UUID

from litestar import Controller, Request, Response, delete, get, patch, post
from litestar.params import FromPath, JSONBody, QueryParameter

from baylore_service.desk import advise as desk_advise
from baylore_service.desk import cases as desk
from baylore_service.routes import asked
from baylore_service.routes.access import Asking, TheHouse, TheReader, manager_only
from baylore_service.routes.advice import shown, thought
from baylore_service.routes.intake import MERGE_PATCH
from baylore_service.routes.keys import MaybeReceipt, answer
from baylore_service.routes.tags import (
    IfMatch,
    IfNoneMatch,
    known_to_client,
    needed_revision,
    not_modified,
    tagged,
)
from baylore_service.store.records import CaseFilter
from baylore_service.wire import advice as wa
from baylore_service.wire import cases as wc
from baylore_service.wire import read_case, show
from baylore_service.wire.complaint import CaseDraft

State = Annotated[Literal["open", "closed", "unresolved"] | None, QueryParameter(name="state")]


class CaseRoutes(Controller):
    """The shop's cases."""

    path = "/api/cases"
    tags = ("cases",)

    @post(status_code=201, sync_to_thread=True)
    def open_case(
        self,
        data: JSONBody[CaseDraft],
        *,
        house: TheHouse,
        actor: Asking,
        reader: TheReader,
        receipt: MaybeReceipt,
    ) -> Response[wc.Case]:
        """Open a case."""
        draft = read_case.draft(data, reader)
        return answer(desk.open_case(house, actor, draft, receipt=receipt), status=201, location=True)

    @get(sync_to_thread=True)
    def list_cases(
        self,
        request: Request[Any, Any, Any],
        *,
        house: TheHouse,
        actor: Asking,
        in_state: State = None,
        system: asked.Words = None,
        make: asked.Words = None,
        model: asked.Words = None,
        cause: asked.Words = None,
        text: asked.Words = None,
        since: asked.Since = None,
        until: asked.Until = None,
        cursor: asked.Cursor = None,
        limit: asked.PageSize = 20,
    ) -> Response[wc.CaseList]:
        """List cases, newest first."""
        which = CaseFilter(
            state=in_state,
            system=system,
            make=make,
            model=model,
            cause=cause,
            text=text,
            since=asked.moment(since, field="since"),
            until=asked.moment(until, field="until"),
        )
        page = desk.list_cases(house, actor, which, cursor=cursor, limit=limit)
        found = wc.CaseList(tuple(show.brief(file) for file in page.items), page.next_cursor)
        return Response(found, headers=asked.next_link(request, page.next_cursor))

    @get("/{case_id:uuid}", sync_to_thread=True)
    def get_case(
        self, case_id: FromPath[UUID], *, house: TheHouse, actor: Asking, if_none_match: IfNoneMatch = None
    ) -> Response[wc.Case]:
        """Read a case."""
        case = show.case(desk.get_case(house, actor, str(case_id)))
        tag = f'"{case.revision}"'
        return not_modified(tag) if known_to_client(tag, if_none_match) else tagged(case)

    @patch("/{case_id:uuid}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_case(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[wc.CasePatch],
        *,
        house: TheHouse,
        actor: Asking,
        reader: TheReader,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.Case]:
        """Change a case by a JSON merge patch (RFC 7396): null empties, what is left out stays."""
        expected = needed_revision(if_match)
        result = desk.amend_case(
            house,
            actor,
            str(case_id),
            read_case.changes(data, reader),
            expected_revision=expected,
            receipt=receipt,
        )
        return answer(result)

    @delete("/{case_id:uuid}", sync_to_thread=True, guards=[manager_only])
    def delete_case(
        self, case_id: FromPath[UUID], *, house: TheHouse, actor: Asking, if_match: IfMatch = None
    ) -> None:
        """Delete a case (managers)."""
        expected = needed_revision(if_match)
        desk.delete_case(house, actor, str(case_id), expected_revision=expected)

    @get("/{case_id:uuid}/advice", tags=["advice"], opt={"thinks": True})
    async def advise_case(
        self,
        case_id: FromPath[UUID],
        *,
        house: TheHouse,
        actor: Asking,
        reader: TheReader,
        limit: asked.AdviceSize = 10,
    ) -> wa.Advice:
        """Advice for a stored case, without itself."""

        def reckoned() -> wa.Advice:
            found = desk_advise.advise_case(house, actor, str(case_id), limit=limit)
            return shown(found, reader, actor)

        return await thought(house, reckoned)
