"""Cases that were written twice: which are alike, join, split, keep apart."""

from __future__ import annotations

from uuid import UUID

from litestar import Controller, Response, get, post
from litestar.params import FromPath, JSONBody

from baylore_service.desk import joining as desk
from baylore_service.desk import twins
from baylore_service.routes.access import Asking, TheHouse
from baylore_service.routes.keys import MaybeReceipt, answer
from baylore_service.routes.tags import IfMatch, expected_revision
from baylore_service.wire import cases as wc
from baylore_service.wire import show_twins


class JoiningRoutes(Controller):
    """One visit, two records."""

    path = "/api/cases/{case_id:uuid}"
    tags = ("cases",)

    @get("/alike", sync_to_thread=True)
    def alike_cases(self, case_id: FromPath[UUID], *, house: TheHouse, actor: Asking) -> wc.AlikeCases:
        """Other records of the same visit, the most alike first."""
        return wc.AlikeCases(tuple(map(show_twins.alike, twins.alike(house, actor, str(case_id)))))

    @post("/join", status_code=200, sync_to_thread=True)
    def join_cases(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[wc.OtherCase],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.Case]:
        """Join another record of the visit into this case; the other is kept, points here, counts no more."""
        expected = expected_revision(if_match)
        other = str(data.other)
        return answer(
            desk.join(house, actor, str(case_id), other, expected_revision=expected, receipt=receipt)
        )

    @post("/split", status_code=200, sync_to_thread=True)
    def split_case(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[wc.OtherCase],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.Case]:
        """Make this record a case of its own again; the case it is joined into gives back what it took."""
        expected = expected_revision(if_match)
        other = str(data.other)
        return answer(
            desk.split(house, actor, str(case_id), other, expected_revision=expected, receipt=receipt)
        )

    @post("/apart", status_code=200, sync_to_thread=True)
    def keep_cases_apart(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[wc.OtherCase],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.Case]:
        """Remember that another record is of another visit: it is not offered again."""
        expected = expected_revision(if_match)
        other = str(data.other)
        return answer(
            desk.keep_apart(house, actor, str(case_id), other, expected_revision=expected, receipt=receipt)
        )
