"""One job played from the complaint to a working car, or to giving it away."""

from __future__ import annotations

import zlib
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from baylore_kb.causes.evidence import NOT_MENDED_BY_A_PART
from baylore_kb.simulate.players import Player
from baylore_kb.simulate.shop import Call
from baylore_kb.simulate.telling import told
from baylore_kb.simulate.world import Repaired
from baylore_kb.trade.model import Cause, Test
from baylore_kb.values import Complaint, PartTried, RepairTried, Step

MOST_STEPS = 40
ASKING_MIN = 2.0


@dataclass(frozen=True, slots=True)
class Job:
    """How a job went: minutes worked, money for parts, what was done; `here` when it was cured here.

    A job given away costs its referral in `minutes` too. `wrong` are repairs that could not have cured.
    """

    minutes: float
    money: float
    tests: int
    repairs: int
    wrong: int
    here: bool

    def cost(self, rate_per_hour: float) -> float:
        """Minutes with the money as minutes of the shop's rate."""
        return self.minutes + self.money * 60.0 / rate_per_hour


def play(call: Call, player: Player, *, seed: Sequence[int]) -> Job:
    """The job done step by step as the player says; given away after 40 steps.

    One seed shows the same outcome of the same test whoever does it and when, so that ways compare.
    """
    bay = _Bay(call, seed)
    for _ in range(MOST_STEPS):
        step = player.next(bay.asked, bay.tried)
        if step.do == "refer" or bay.did(step):
            break
    return bay.job()


class _Bay:
    """The car in the bay: what was found and done so far, and what it cost."""

    def __init__(self, call: Call, seed: Sequence[int]) -> None:
        self.asked, self.tried = call.said, list[str]()
        self._call, self._seed = call, tuple(seed)
        self._minutes, self._money, self._cured = 0.0, 0.0, False
        self._asked = 0
        self._stands: Test | None = None

    def did(self, step: Step) -> bool:
        """Does a step; True when the car works."""
        if step.do == "ask":
            self._minutes += ASKING_MIN
            self._answer(step)
        elif step.do == "replace" and step.cause:
            self._cured = self._repair(step.cause, step)
        elif step.test:
            self._test(step.test)
        return self._cured

    def _answer(self, step: Step) -> None:
        """Taps the symptom that is there; where it is not offered, tells it in other words, then finds it."""
        symptom, self._asked = self._call.symptom, self._asked + 1
        if self._asked > 1 or any(option.symptom == symptom for option in step.options):
            self.asked = replace(self.asked, symptoms=(symptom,))
        else:
            listed = self._call.world.nature.trade.symptoms[symptom]
            said = told(listed, self._chance("told again"))
            self.asked = replace(self.asked, text=f"{self.asked.text}, {said}")

    def _test(self, test: str) -> None:
        world, known = self._call.world, self._call.world.nature.trade.tests[test]
        self._minutes += world.minutes(self._stands, known)
        self._stands = known
        self.asked = replace(self.asked, tests=(*self.asked.tests, world.test(test, self._chance(test))))

    def _chance(self, act: str) -> np.random.Generator:
        return np.random.default_rng([*self._seed, zlib.crc32(act.encode())])

    def _repair(self, cause: str, step: Step) -> bool:
        attempt = f"{cause} {self.tried.count(cause)}"
        done = self._call.world.repair(cause, step.part_source or "maker", self._chance(attempt))
        self._minutes, self._money = self._minutes + done.minutes, self._money + done.money
        self.tried.append(cause)
        self.asked = _told(self.asked, step, done, self._call.world.nature.trade.causes.get(cause))
        return done.result == "cured"

    def job(self) -> Job:
        """The job as it stands; one not cured is given away."""
        world = self._call.world
        wrong = sum(not world.cures(cause) for cause in self.tried)
        more, paid = (0.0, 0.0) if self._cured else world.away()
        return Job(
            self._minutes + more,
            self._money + paid,
            len(self.asked.tests),
            len(self.tried),
            wrong,
            self._cured,
        )


def _told(asked: Complaint, step: Step, done: Repaired, known: Cause | None) -> Complaint:
    """The complaint with what was fitted or mended and what it did."""
    if known is not None and known.mode not in NOT_MENDED_BY_A_PART:
        part = PartTried(known.component, step.part_source or "maker", done.result, done.money)
        return replace(asked, parts=(*asked.parts, part))
    result = "no change" if done.result == "failed later" else done.result
    return replace(asked, repairs=(*asked.repairs, RepairTried(step.cause or "", result, done.minutes)))
