"""The tests of a job in the order somebody would do them, with what they showed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from random import Random

from baylore_kb.trade.model import Cause, Test
from baylore_kb.values import TestDone
from baylore_service.demo.guide import Guide
from baylore_service.demo.truth import PLACES, Truth, normal, row_of, tells
from baylore_service.demo.world import Car, Person

HABIT = {"terse": (0, 1, 1, 2), "dictated": (1, 1, 2, 3), "careful": (1, 2, 3, 3), "hurried": (0, 0, 1)}
PACE = {"terse": 0.9, "dictated": 1.1, "careful": 1.35, "hurried": 0.8}
_SCANNED = "charging starting ignition fuel emissions abs_stab network hv restraint transmission"
SCANNED = frozenset(_SCANNED.split())


@dataclass(frozen=True, slots=True)
class Fault:
    """What is really wrong, unknown to those who look; `comes_and_goes` hides it from some tests."""

    cause: str
    symptom: str
    system: str
    comes_and_goes: bool


@dataclass(frozen=True)
class Diagnosis:
    """One person looking for one fault on one car."""

    guide: Guide
    truth: Truth
    car: Car
    person: Person
    fault: Fault
    chance: Random

    def suspects(self) -> list[Cause]:
        """Causes that show the symptom and can be on this car, likeliest first."""
        shown = (cause for cause in self.guide.shown_by(self.fault.symptom) if self.car.can_have(cause))
        return sorted(shown, key=self._first_guess, reverse=True)

    def _first_guess(self, cause: Cause) -> float:
        place = cause.symptoms.index(self.fault.symptom)
        return cause.weight * PLACES[min(place, 4)]

    def before(self) -> list[Test]:
        """The looks taken before the test that settles it, cheap and telling ones first."""
        useful = [test for test in self.guide.tests_about(self.suspects()[:8]) if self._may(test)]
        useful.sort(key=lambda test: (test.setup_min + test.do_min) * self.chance.uniform(0.4, 1.8))
        looks = [*self._opening(), *useful[: self.chance.choice(HABIT[self.person.style])]]
        return list({test.id: test for test in looks}.values())

    def _opening(self) -> Iterator[Test]:
        if self.chance.random() < 0.12:
            yield self.guide.trade.tests["ask_history"]
        if self.fault.system in SCANNED and self.chance.random() < 0.45:
            yield self.guide.trade.tests["scan_all"]
        if self.chance.random() < (0.45 if self.fault.comes_and_goes else 0.12):
            yield self.guide.trade.tests["verify_complaint"]

    def _may(self, test: Test) -> bool:
        """Whether it is offered for the symptom, can be done on this car, and by this person."""
        gate = not test.for_symptoms or self.fault.symptom in test.for_symptoms
        on_car = frozenset(test.only_if) <= self.car.traits and test.system not in self.car.model.lacks
        return gate and on_car and test.skill <= self.person.skill

    def done(self, test: Test, *, earlier: Test | None = None) -> TestDone:
        """The test carried out; set-up is saved when the car stands as the earlier test left it."""
        away = self.fault.comes_and_goes and self.chance.random() < 0.25
        cause = "" if away else self.fault.cause
        outcome = self.truth.outcome(test, cause, self.chance)
        return self.shown(test, outcome, earlier=earlier, present=not away)

    def shown(
        self, test: Test, outcome: str, *, earlier: Test | None = None, present: bool = True
    ) -> TestDone:
        """The test with a given outcome."""
        shared = earlier is not None and earlier.state == test.state
        usual = test.do_min + (0.0 if shared else test.setup_min)
        minutes = max(1.0, round(usual * PACE[self.person.style] * self.chance.uniform(0.7, 1.7)))
        part = self._part(test, outcome)
        return TestDone(test.id, outcome, minutes=minutes, part=part, fault_present=present)

    def _part(self, test: Test, outcome: str) -> str | None:
        """The true cause where the outcome shows the very part and it is among them."""
        names = next(each.names_part for each in test.outcomes if each.id == outcome)
        about = names and row_of(test, self.fault.cause).causes and tells(test, outcome, self.fault.cause)
        return self.fault.cause if about else None

    def settled(self, test: Test, *, earlier: Test | None = None) -> Iterator[TestDone]:
        """The test that settles it, done again when it first looked fine."""
        first = self.done(test, earlier=earlier)
        yield first
        if not tells(test, first.outcome, self.fault.cause) and self.chance.random() < 0.7:
            yield self.shown(test, self.telling(test), earlier=test)

    def telling(self, test: Test) -> str:
        """The outcome of the test that speaks most for the fault."""
        row = self.truth.row(test, self.fault.cause)
        return max(row, key=lambda outcome: row[outcome] if tells(test, outcome, self.fault.cause) else 0.0)

    def misled(self, done: TestDone) -> str | None:
        """A wrong cause an outcome pointed at."""
        test = self.guide.trade.tests[done.test]
        if done.outcome == normal(test) or tells(test, done.outcome, self.fault.cause):
            return None
        wrong = (c for c in self.suspects() if c.id != self.fault.cause and tells(test, done.outcome, c.id))
        return next((cause.id for cause in wrong), None)
