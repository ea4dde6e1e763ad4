"""How a case ends and comes back: close, reopen."""

from __future__ import annotations

from uuid import UUID

from litestar import Controller, Response, post
from litestar.params import FromPath, JSONBody

from baylore_service.desk import close as desk
from baylore_service.routes.access import Asking, TheHouse, TheReader
from baylore_service.routes.keys import MaybeReceipt, answer, closed_answer
from baylore_service.routes.tags import IfMatch, expected_revision
from baylore_service.wire import cases as wc
from baylore_service.wire import read_case


class EndingRoutes(Controller):
    """Closing and coming back."""

    path = "/api/cases/{case_id:uuid}"
    tags = ("cases",)

    @post("/close", status_code=200, sync_to_thread=True)
    def close_case(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[wc.Closing],
        *,
        house: TheHouse,
        actor: Asking,
        reader: TheReader,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.ClosedCase]:
        """Close a case with its confirmed cause, or as unresolved; `alike` are other records of the visit."""
        result = desk.close_case(
            house,
            actor,
            str(case_id),
            read_case.closing(data, reader),
            receipt=receipt,
            expected_revision=expected_revision(if_match),
        )
        return closed_answer(result)

    @post("/reopen", status_code=201, sync_to_thread=True)
    def reopen_case(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[wc.Reopening],
        *,
        house: TheHouse,
        actor: Asking,
        reader: TheReader,
        receipt: MaybeReceipt,
    ) -> Response[wc.Case]:
        """Open a comeback of a closed case: a new case that is linked to it."""
        reopening = read_case.reopening(data, reader)
        result = desk.reopen_case(house, actor, str(case_id), reopening, receipt=receipt)
        return answer(result, status=201, location=True)
