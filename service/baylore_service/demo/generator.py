"""The demo shop's cases, made up from a seed."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from functools import lru_cache
from random import Random

from baylore_kb.trade import load as load_trade
from baylore_kb.trade.model import Cause
from baylore_kb.values import Case
from baylore_service.demo.guide import Guide
from baylore_service.demo.job import Job, Tools, Visit, Work, who
from baylore_service.demo.noting import Notes
from baylore_service.demo.plan import Plan, Slot, working_hour
from baylore_service.demo.saying import Speech
from baylore_service.demo.strange import StrangeWork
from baylore_service.demo.truth import Truth
from baylore_service.demo.world import LAST_DAY
from baylore_service.demo.written import case_id, hand_written

SEED, COUNT = 7, 440
RETURNS = 0.85
AGAIN = (
    "same again as last time",
    "back with the same complaint",
    "it is doing it again",
    "not cured, was ok for a while",
)


def cases(seed: int = SEED, count: int = COUNT) -> tuple[Case, ...]:
    """`count` cases oldest first, those written by hand among them; the same seed and count give the same."""
    return tuple(job.case for job in jobs(seed, count))


@lru_cache(maxsize=2)
def jobs(seed: int = SEED, count: int = COUNT) -> tuple[Job, ...]:
    """The cases with the member who had each."""
    made = list(hand_written(load_trade()))
    made += _Maker(seed, count - len(made)).jobs()
    return tuple(sorted(made, key=lambda job: (job.case.opened or LAST_DAY, job.case.id)))


class _Maker:
    """Makes jobs one after the other, with a chance of its own for each."""

    def __init__(self, seed: int, count: int) -> None:
        trade = load_trade()
        speech = Speech(trade)
        self._tools = Tools(trade, Truth(trade, seed), speech, Notes(trade, speech), Guide(trade))
        self._seed, self._count = seed, max(0, count)
        self._plan = Plan(self._tools, Random(f"{seed}:plan"), self._count)
        self._made: list[Job] = []

    def jobs(self) -> list[Job]:
        """All of them: the special ones, then ordinary ones until there are enough."""
        for slot in self._plan.special():
            self._add(slot)
        while len(self._made) < self._count:
            self._add(self._plan.ordinary())
        return self._made

    def _add(self, slot: Slot) -> None:
        job = self._job(slot)
        if len(self._made) < self._count:
            self._made.append(job)
        if _fails_later(job) and len(self._made) < self._count:
            self._come_back(len(self._made) - 1, slot)

    def _job(self, slot: Slot, *, name: str = "") -> Job:
        number = name or str(len(self._made))
        chance = Random(f"{self._seed}:job:{number}")
        person = who(slot.cause, self._tools.trade, chance)
        id = case_id(f"{self._seed}:{number}")
        visit = Visit(id, slot.car, slot.opened, slot.cause, person, slot.planted)
        return Job(_ended(self._work(visit, slot, chance), slot), person.name)

    def _work(self, visit: Visit, slot: Slot, chance: Random) -> Work:
        if slot.strange is not None:
            return StrangeWork(self._tools, visit, chance, strange=slot.strange)
        return Work(self._tools, visit, chance)

    def _come_back(self, at: int, slot: Slot) -> None:
        """The car returns with the same fault, unless it goes elsewhere."""
        first, chance = self._made[at], Random(f"{self._seed}:return:{at}")
        day = working_hour(slot.opened + timedelta(days=chance.randint(9, 75)), chance)
        if day > LAST_DAY or chance.random() > RETURNS:
            return
        again = self._job(replace(slot, opened=day, cause=self._deeper(slot)), name=f"{at}:return")
        said = replace(again.case.complaint, text=f"{chance.choice(AGAIN)}, {again.case.complaint.text}")
        self._made.append(replace(again, case=replace(again.case, complaint=said, comeback_of=first.case.id)))
        earlier = replace(first.case, returned_as=(again.case.id,), verified=False)
        self._made[at] = replace(first, case=earlier)

    def _deeper(self, slot: Slot) -> Cause:
        """What is found the second time: of a planted failure the cause behind it."""
        return self._tools.trade.causes[slot.planted.causes[0]] if slot.planted else slot.cause


def _ended(work: Work, slot: Slot) -> Case:
    if slot.ending == "closed":
        return work.closed()
    return work.opened() if slot.ending == "open" else work.unresolved(slot.ending)


def _fails_later(job: Job) -> bool:
    return job.case.state == "closed" and any(
        part.result == "failed later" for part in job.case.complaint.parts
    )
