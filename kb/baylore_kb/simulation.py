"""A job played through on paper: what following the advice costs, and what replacing by habit costs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

import numpy as np

from baylore_kb.causes import beliefs_of
from baylore_kb.causes.evidence import NOT_MENDED_BY_A_PART
from baylore_kb.plan.layout import away_minutes
from baylore_kb.plan.mends import UNKNOWN_REPAIR_MIN, one_repair_cures, repair_minutes
from baylore_kb.tally import Tally
from baylore_kb.trade.model import Trade
from baylore_kb.values import Advice, Case, Complaint, PartTried, Step, Terms, TestDone

MOST_STEPS = 25
ASKING_MIN = 2.0
# A shop that replaces by habit gives up after so many parts; common practice, no published source.
GUESSES = 3

Ask = Callable[[Complaint], Advice]


@dataclass(frozen=True, slots=True)
class Job:
    """A job's end: minutes spent, part money included at the shop's rate; `here` when it was cured here."""

    minutes: float
    tests: int
    repairs: int
    here: bool


@dataclass(frozen=True, slots=True)
class World:
    """What is really wrong, and what doing things costs."""

    truth: Case
    trade: Trade
    tally: Tally
    terms: Terms
    outcomes: Mapping[str, str]

    def repair(self, cause: str) -> float:
        """Minutes of a repair with its part, 90 for one that nobody has listed."""
        known = self.trade.causes.get(cause)
        return repair_minutes(known, self.tally, terms=self.terms) if known else UNKNOWN_REPAIR_MIN

    def refer(self) -> float:
        """Minutes of giving the job away."""
        return away_minutes(self.repair(self.truth.cause or ""))

    def cures(self, cause: str) -> bool:
        """Whether the repair of a cause cures the car: its own, or a new part of the same component."""
        return one_repair_cures(cause, self.truth.cause or "", self.trade)

    def outcome(self, test: str, chance: np.random.Generator) -> TestDone:
        """What the test shows: as it did in the case, else drawn from the trade's chances."""
        listed, cause = self.trade.tests[test].outcomes, self.truth.cause or ""
        seen = self.outcomes.get(test)
        beliefs = beliefs_of(self.trade)
        column = beliefs.cause_at.get(cause, -1)
        if seen is None or not beliefs.knows(test, seen):
            p = beliefs.lik[beliefs.test_at[test], : len(listed), column]
            seen = listed[int(chance.choice(len(listed), p=p / p.sum()))].id
        shows = next(outcome.names_part for outcome in listed if outcome.id == seen)
        named = column >= 0 and bool(beliefs.named[beliefs.test_at[test], column])
        return TestDone(test, seen, part=cause if shows and named else None)


def job_by_plan(asked: Complaint, ask: Ask, world: World, *, chance: np.random.Generator) -> Job:
    """The job done step by step as the advice says; given away after 25 steps."""
    minutes, tried = 0.0, set[str]()
    for _ in range(MOST_STEPS):
        advice = ask(asked)
        step = _not_again(advice, tried)
        if step.do == "refer":
            break
        if step.do == "replace" and step.cause:
            minutes, tried = minutes + world.repair(step.cause), tried | {step.cause}
            if world.cures(step.cause):
                return Job(minutes, len(asked.tests), len(tried), here=True)
            asked = _without_cure(asked, step.cause, world)
        elif step.do == "ask":
            minutes, asked = minutes + ASKING_MIN, _answered(asked, step, world)
        elif step.test:
            minutes += next(row.minutes for row in advice.tests if row.test == step.test)
            asked = replace(asked, tests=(*asked.tests, world.outcome(step.test, chance)))
    return Job(minutes + world.refer(), len(asked.tests), len(tried), here=False)


def job_by_frequency(first: Advice, world: World) -> Job:
    """The likeliest parts replaced one after the other, untested; given away after three."""
    minutes, done = 0.0, 0
    for row in first.causes[:GUESSES]:
        minutes, done = minutes + world.repair(row.cause), done + 1
        if world.cures(row.cause):
            return Job(minutes, 0, done, here=True)
    return Job(minutes + world.refer(), 0, done, here=False)


def _not_again(advice: Advice, tried: set[str]) -> Step:
    """The next step; a repair that did not cure is not done twice: the next likely one, or nothing."""
    if advice.next.do != "replace" or advice.next.cause not in tried:
        return advice.next
    left = next((row.cause for row in advice.causes if row.cause not in tried), None)
    return replace(advice.next, cause=left) if left else Step("refer", "Everything likely was tried.")


def _without_cure(asked: Complaint, cause: str, world: World) -> Complaint:
    known = world.trade.causes.get(cause)
    if known is None or known.mode in NOT_MENDED_BY_A_PART:
        return asked
    return replace(asked, parts=(*asked.parts, PartTried(known.component, "maker", "no change")))


def _answered(asked: Complaint, step: Step, world: World) -> Complaint:
    """The customer taps the offered symptom that the cause shows as, else describes its usual one."""
    cause = world.trade.causes.get(world.truth.cause or "")
    shows = cause.symptoms if cause else ()
    offered = [option.symptom for option in step.options]
    fitting = [symptom for symptom in shows if symptom in offered] or list(shows[:1]) or offered[:1]
    return replace(asked, symptoms=tuple(fitting[:1]))
