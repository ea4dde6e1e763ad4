"""Asking after cars, and asking for facts."""

from __future__ import annotations

from typing import Annotated
from uuid import UUID

from litestar import Controller, Response, get, post
from litestar.params import FromPath, JSONBody, QueryParameter

from baylore_service.desk import asking, following
from baylore_service.routes.access import Asking, TheHouse, manager_only
from baylore_service.routes.keys import MaybeReceipt, answer
from baylore_service.wire import care
from baylore_service.wire import cases as wc

Most = Annotated[int, QueryParameter(name="limit", ge=1, le=100, description="Most cars.")]


class CareRoutes(Controller):
    """What is done for cars and cases after they were closed."""

    path = "/api"
    tags = ("office",)

    @get("/followups", sync_to_thread=True)
    def follow_ups(self, *, house: TheHouse, actor: Asking, most: Most = 5) -> care.FollowUps:
        """Cars to ask after: closed 14 to 60 days ago, those likeliest to come back first."""
        return care.follow_ups(following.due(house, actor, most))

    @post("/cases/{case_id:uuid}/followed", status_code=200, sync_to_thread=True)
    def followed(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[care.Heard],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
    ) -> Response[wc.Case]:
        """Keep what was heard of a car: cured proves the cure, come back links or opens the case of it."""
        as_case = str(data.case) if data.case else None
        result = following.followed(
            house, actor, str(case_id), data.outcome, as_case=as_case, receipt=receipt
        )
        return answer(result)

    @get("/asks", sync_to_thread=True)
    def asks(self, *, house: TheHouse, actor: Asking) -> care.AskedCases:
        """Facts the asking member is asked for, of cases opened by that member."""
        return care.asked(asking.asked_of(house, actor))

    @post("/cases/{case_id:uuid}/asks", status_code=200, sync_to_thread=True, guards=[manager_only])
    def ask(
        self, case_id: FromPath[UUID], data: JSONBody[care.FactsToAsk], *, house: TheHouse, actor: Asking
    ) -> care.FactsWanted:
        """Ask the author of a closed case for facts it lacks (managers); asking again changes nothing."""
        return care.facts(str(case_id), asking.ask(house, actor, str(case_id), data.facts))

    @post("/cases/{case_id:uuid}/asks/unknown", status_code=200, sync_to_thread=True)
    def unknown(
        self, case_id: FromPath[UUID], data: JSONBody[care.NotKnown], *, house: TheHouse, actor: Asking
    ) -> care.FactsWanted:
        """Say that nobody knows a fact any more; it is asked no more."""
        return care.facts(str(case_id), asking.unknown(house, actor, str(case_id), data.fact))
