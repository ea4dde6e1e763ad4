"""From a complaint to advice; nothing is written."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from baylore_kb import advice as engine
from baylore_kb import readings as meter
from baylore_kb.values import Advice, Complaint, Judged, Reading
from baylore_service.desk import files
from baylore_service.desk.house import House
from baylore_service.desk.terms import terms_of
from baylore_service.index_host import Mind
from baylore_service.store.records import Actor


def advise(
    house: House, actor: Actor, complaint: Complaint, *, limit: int = 10, mind: Mind | None = None
) -> Advice:
    """What it turned out to be before and what to do next, from `mind` where it is at hand already.

    The skill is never above the actor's, the rights are theirs alone.
    """
    known = house.mind_of(actor) if mind is None else mind
    return _answer(house, actor, complaint, limit=limit, mind=known)


def advise_case(house: House, actor: Actor, case_id: str, *, limit: int = 10) -> Advice:
    """The advice for a kept case, without itself. Raises NotFound."""
    with house.store.read() as work:
        file = files.find(work, actor, case_id)
    complaint = file.as_complaint(skill=actor.member.skill)
    alone = frozenset({case_id})
    return _answer(house, actor, complaint, limit=limit, mind=house.mind_of(actor), leave_out=alone)


def judge(house: House, actor: Actor, readings: Iterable[Reading]) -> tuple[Judged, ...]:
    """Each reading with what was to be expected and the verdict, in order."""
    trade = house.trade_of(actor)
    return tuple(meter.judge(reading, trade) for reading in readings)


def _answer(
    house: House,
    actor: Actor,
    complaint: Complaint,
    *,
    limit: int,
    mind: Mind,
    leave_out: frozenset[str] = frozenset(),
) -> Advice:
    member = actor.member
    allowed = replace(complaint, skill=min(complaint.skill, member.skill), rights=frozenset(member.rights))
    return engine.advise(
        allowed,
        mind.snapshot,
        limit=min(limit, house.settings.max_advice),
        terms=terms_of(actor.shop),
        leave_out=leave_out,
        tuning=mind.tuning,
    )
