"""From a complaint to advice; nothing is written."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from baylore_kb import advice as engine
from baylore_kb import readings as meter
from baylore_kb.values import Advice, Complaint, Judged, Reading
from baylore_service.desk import files
from baylore_service.desk.house import House
from baylore_service.desk.manager import terms_of
from baylore_service.store.records import Actor


def advise(house: House, actor: Actor, complaint: Complaint, *, limit: int = 10) -> Advice:
    """What it turned out to be before and what to do next.

    The skill is never above the actor's, the rights are theirs alone.
    """
    return _answer(house, actor, complaint, limit=limit, leave_out=frozenset())


def advise_case(house: House, actor: Actor, case_id: str, *, limit: int = 10) -> Advice:
    """The advice for a kept case, without itself. Raises NotFound."""
    with house.store.read() as work:
        file = files.find(work, actor, case_id)
    complaint = file.as_complaint(skill=actor.member.skill)
    return _answer(house, actor, complaint, limit=limit, leave_out=frozenset({case_id}))


def judge(house: House, actor: Actor, readings: Iterable[Reading]) -> tuple[Judged, ...]:
    """Each reading with what was to be expected and the verdict, in order."""
    trade = house.trade_of(actor)
    return tuple(meter.judge(reading, trade) for reading in readings)


def _answer(
    house: House, actor: Actor, complaint: Complaint, *, limit: int, leave_out: frozenset[str]
) -> Advice:
    member = actor.member
    allowed = replace(complaint, skill=min(complaint.skill, member.skill), rights=frozenset(member.rights))
    mind = house.hosts.host(actor.shop.id).mind()
    return engine.advise(
        allowed,
        mind.snapshot,
        limit=min(limit, house.settings.max_advice),
        terms=terms_of(actor.shop),
        leave_out=leave_out,
        tuning=mind.tuning,
    )
