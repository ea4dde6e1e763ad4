"""Questions under a car: advice for a complaint, verdicts on readings. Nothing is stored."""

from __future__ import annotations

from collections.abc import Iterable

from litestar import Controller, post
from litestar.params import JSONBody

from baylore_service.desk import advise as desk
from baylore_service.desk.house import House
from baylore_service.routes.access import Asking, TheHouse, TheReader
from baylore_service.wire import advice as wa
from baylore_service.wire import show_advice
from baylore_service.wire.complaint import Complaint, JudgeRequest


def heard_chances(house: House, text: str, *, given: Iterable[str]) -> dict[str, float]:
    """How surely each symptom was heard in the words; one that was tapped is sure."""
    heard = {each.symptom: each.chance for each in house.spotter.hear(text)}
    return heard | dict.fromkeys(given, 1.0)


class AdviceRoutes(Controller):
    """What was it before, and what to test next."""

    path = "/api"
    tags = ("advice",)

    @post("/advice", status_code=200, sync_to_thread=True)
    def advise(
        self, data: JSONBody[Complaint], *, house: TheHouse, actor: Asking, reader: TheReader
    ) -> wa.Advice:
        """Advice for a complaint."""
        complaint = reader.complaint(data, skill=actor.member.skill)
        found = desk.advise(house, actor, complaint, limit=data.limit)
        chances = heard_chances(house, complaint.text, given=complaint.symptoms)
        return show_advice.advice(found, reader.trade, currency=actor.shop.currency, chances=chances)

    @post("/readings/judge", status_code=200, sync_to_thread=True)
    def judge(
        self, data: JSONBody[JudgeRequest], *, house: TheHouse, actor: Asking, reader: TheReader
    ) -> wa.JudgedList:
        """Judge readings: a list of them, or one by itself."""
        rows = desk.judge(house, actor, reader.readings(data.readings))
        return wa.JudgedList(tuple(show_advice.judged(row) for row in rows))
