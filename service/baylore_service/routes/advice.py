"""Questions under a car: advice for a complaint, verdicts on readings. Nothing is stored."""

from __future__ import annotations

import asyncio
from collections.abc import Callable
from typing import TypeVar

from litestar import Controller, post
from litestar.params import JSONBody

from baylore_kb.values import Advice
from baylore_service.desk import advise as desk
from baylore_service.desk.house import House
from baylore_service.routes.access import Asking, TheHouse, TheReader
from baylore_service.store.records import Actor
from baylore_service.wire import advice as wa
from baylore_service.wire import show_advice
from baylore_service.wire.complaint import Complaint, JudgeRequest
from baylore_service.wire.read import Reader

T = TypeVar("T")


async def thought(house: House, reckon: Callable[[], T]) -> T:
    """What long reckoning gives, done where it keeps no short answer waiting. Raises Overloaded."""
    return await asyncio.wrap_future(house.thinkers.think(reckon))


def shown(found: Advice, reader: Reader, actor: Actor) -> wa.Advice:
    """Advice as the asking shop reads it."""
    return show_advice.advice(found, reader.trade, currency=actor.shop.currency, this_year=reader.now.year)


class AdviceRoutes(Controller):
    """What was it before, and what to test next."""

    path = "/api"
    tags = ("advice",)

    @post("/advice", status_code=200, opt={"thinks": True})
    async def advise(self, data: JSONBody[Complaint], *, house: TheHouse, actor: Asking) -> wa.Advice:
        """Advice for a complaint."""

        def reckoned() -> wa.Advice:
            mind = house.mind_at_sign_in(actor)
            reader = Reader(mind.snapshot.trade, house.now())
            complaint = reader.complaint(data, skill=actor.member.skill)
            found = desk.advise(house, actor, complaint, limit=data.limit, mind=mind)
            return shown(found, reader, actor)

        return await thought(house, reckoned)

    @post("/readings/judge", status_code=200, sync_to_thread=True)
    def judge(
        self, data: JSONBody[JudgeRequest], *, house: TheHouse, actor: Asking, reader: TheReader
    ) -> wa.JudgedList:
        """Judge readings: a list of them, or one by itself."""
        rows = desk.judge(house, actor, reader.readings(data.readings))
        return wa.JudgedList(tuple(show_advice.judged(row) for row in rows))
