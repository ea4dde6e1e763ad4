"""One demo job, from the complaint to the note."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from random import Random

from baylore_kb.trade.model import Cause, Test, Trade
from baylore_kb.values import Case, Complaint, Correction, PartTried, Reading, TestDone
from baylore_service.demo import billing, fitting, noting
from baylore_service.demo.conditions import Bay
from baylore_service.demo.guide import Guide
from baylore_service.demo.measure import Gauge
from baylore_service.demo.pages import page
from baylore_service.demo.planted import Planted
from baylore_service.demo.route import Diagnosis, Fault
from baylore_service.demo.saying import Speech, Voice
from baylore_service.demo.truth import Truth, normal
from baylore_service.demo.world import Car, Person, people

READ, MEASURED_AFTER = 0.75, 0.85
GUESSED = 0.08


@dataclass(frozen=True)
class Tools:
    """What every job is made with."""

    trade: Trade
    truth: Truth
    speech: Speech
    notes: noting.Notes
    guide: Guide


@dataclass(frozen=True, slots=True)
class Visit:
    """Who brings what and who looks at it; `cause` is what is really wrong."""

    id: str
    car: Car
    opened: datetime
    cause: Cause
    person: Person
    planted: Planted | None = None


@dataclass(frozen=True, slots=True)
class Job:
    """A case and the member who had it."""

    case: Case
    by: str


class Work:
    """The work on one visit; each step draws from the visit's own chance."""

    def __init__(self, tools: Tools, visit: Visit, chance: Random) -> None:
        self.tools, self.visit, self.chance = tools, visit, chance
        cause = visit.cause
        self.fault = Fault(
            cause.id, tools.truth.symptom(cause, chance), cause.system, comes_and_goes=chance.random() < 0.17
        )
        self.look = Diagnosis(tools.guide, tools.truth, visit.car, visit.person, self.fault, chance)
        self.gauge = Gauge(tools.trade, Bay(visit.car, visit.opened, chance), visit.person.style)

    def opened(self) -> Case:
        """The case while it is worked on: a complaint and perhaps a first look."""
        return self._case(self._first_looks()[: self.chance.randint(0, 2)], ())

    def unresolved(self, reason: str) -> Case:
        """The case given up."""
        tests = self._first_looks() + [
            self.look.shown(self.tools.trade.tests["verify_complaint"], "not_seen")
        ]
        case = self._case(tests if reason == "no fault found" else tests[:2], ())
        ended = replace(case, state="unresolved", unresolved_reason=reason, title=self._title(reason))
        return self._written(self._billed(ended, repair_min=0.0))

    def closed(self) -> Case:
        """The case solved."""
        cause, trade = self.visit.cause, self.tools.trade
        settling = trade.tests[cause.confirm_test]
        looks = self._first_looks(but=settling)
        settled = list(self.settled(settling, earlier=trade.tests[looks[-1].test] if looks else None))
        tests = [*looks, *settled]
        parts = [*self._guesses(looks), *self._parts()]
        case = self._case(tests, parts)
        proved = settled[-1].outcome if self._proves(settling, settled[-1]) else None
        return self._written(self._closed(case, settling.id if proved else None))

    def _closed(self, case: Case, confirmed_by: str | None) -> Case:
        cause, chance = self.visit.cause, self.chance
        after = self._after(case)
        verified = bool(after) or chance.random() < 0.75
        closed = replace(
            case,
            state="closed",
            complaint=replace(case.complaint, readings=(*case.complaint.readings, *after)),
            cause=cause.id,
            cause_title=cause.title,
            cause_system=cause.system,
            correction=self.correction(),
            confirmed_by=confirmed_by,
            verification=chance.choice(page("words.yaml")["notes"]["verify"]) if verified else "",
            verified=verified,
            title=self._title(noting.plain(cause.title)),
        )
        hours = chance.uniform(cause.labour_low_h, cause.labour_high_h)
        return self._billed(closed, repair_min=max(5.0, round(hours * 60)))

    def _first_looks(self, *, but: Test | None = None) -> list[TestDone]:
        done: list[TestDone] = []
        earlier: Test | None = None
        for test in self.look.before():
            if but is None or test.id != but.id:
                done.append(self.look.done(test, earlier=earlier))
                earlier = test
        return done

    def _proves(self, test: Test, done: TestDone) -> bool:
        row = self.tools.truth.row(test, self.fault.cause)
        return done.outcome == self.look.telling(test) or row[done.outcome] > 0.3

    def _guesses(self, looks: list[TestDone]) -> Iterator[PartTried]:
        """Parts an outcome or a habit misled to, before the right cause was found."""
        wrong = next((found for found in map(self.look.misled, looks) if found), None)
        if wrong is None and self.chance.random() < GUESSED:
            wrong = next((c.id for c in self.look.suspects() if c.id != self.fault.cause), None)
        guess = self.tools.trade.causes[wrong] if wrong else None
        # Nobody fits an engine or a gearbox on a guess.
        if guess and fitting.needs_part(guess) and guess.labour_low_h <= 2 and self.chance.random() < 0.55:
            yield fitting.in_vain(guess, self.chance)

    def _parts(self) -> Iterator[PartTried]:
        cause, planted = self.visit.cause, self.visit.planted
        if fitting.needs_part(cause):
            yield from fitting.fitted(cause, self.chance, planted=planted)
        elif small := fitting.small_stuff(cause, self.chance):
            yield small

    def _readings(self, tests: list[TestDone]) -> Iterator[Reading]:
        for done in tests:
            if self.chance.random() < READ:
                found = self.gauge.reading(self.tools.trade.tests[done.test], done.outcome)
                if found is not None:
                    yield found

    def _after(self, case: Case) -> tuple[Reading, ...]:
        """The twin of the reading that was wrong, taken once it works."""
        tests = self.tools.trade.tests
        taken = {each.quantity for each in case.complaint.readings}
        bad = [tests[done.test] for done in case.complaint.tests if done.outcome != normal(tests[done.test])]
        test = next((test for test in reversed(bad) if test.quantity in taken), None)
        found = self.gauge.sound(test) if test and self.chance.random() < MEASURED_AFTER else None
        return (found,) if found else ()

    def _case(self, tests: list[TestDone], parts: list[PartTried] | tuple[()]) -> Case:
        chance, visit = self.chance, self.visit
        codes = self.codes()
        complaint = Complaint(
            self._said(codes),
            visit.car.on(visit.opened, full=chance.random() < 0.4),
            codes=codes,
            symptoms=(self.fault.symptom,) if chance.random() < 0.6 else (),
            readings=tuple(self._readings(tests)),
            tests=tuple(tests),
            parts=tuple(parts),
            comes_and_goes=self.fault.comes_and_goes,
        )
        return Case(visit.id, complaint, opened=visit.opened)

    def codes(self) -> tuple[str, ...]:
        """The codes the fault left, and now and then one that has nothing to do with it."""
        listed = page("codes.yaml").get(self.fault.cause, ()) if self.chance.random() < 0.85 else ()
        cylinder = str(self.chance.randint(1, 4))
        stray = (
            [self.chance.choice(("P0562", "U0100", "P0128", "P0420"))] if self.chance.random() < 0.04 else []
        )
        return tuple(dict.fromkeys([*(code.replace("n", cylinder) for code in listed), *stray]))

    def _said(self, codes: tuple[str, ...]) -> str:
        chance, own = self.chance, self.visit.person.style
        voice: Voice = "counter" if chance.random() < 0.55 else own
        others = [each for each in self.visit.cause.symptoms if each != self.fault.symptom]
        extra = (chance.choice(others),) if others and chance.random() < 0.16 else ()
        return self.tools.speech.complaint(
            self.fault.symptom, voice, chance, extra=extra, own=self.own_words()
        )

    def settled(self, test: Test, *, earlier: Test | None) -> Iterator[TestDone]:
        """The test that settles it, once or twice."""
        return self.look.settled(test, earlier=earlier)

    def correction(self) -> Correction:
        """What was done."""
        cause = self.visit.cause
        return Correction(noting.action(cause.fix), cause.component, noting.doing(cause.fix, self.chance))

    def own_words(self) -> tuple[str, ...]:
        """What was said, where the fault has words of its own."""
        return ()

    def _title(self, end: str) -> str:
        return f"{self.tools.speech.headline(self.fault.symptom, self.chance)}, {end}"

    def _billed(self, case: Case, *, repair_min: float) -> Case:
        parts, chance = case.complaint.parts, self.chance
        work = billing.labour(case.complaint.tests, repair_min, parts, chance=chance)
        other = chance.choice((12.0, 20.0, 34.0)) if repair_min and chance.random() < 0.15 else 0.0
        days = 0 if chance.random() < 0.7 else chance.randint(1, 4)
        ready = case.opened and case.opened + timedelta(
            days=days, minutes=work.diagnosis_min + work.repair_min
        )
        return replace(case, labour=work, cost=billing.cost(work, parts, other=other), closed=ready)

    def _written(self, case: Case) -> Case:
        planted, style = self.visit.planted, self.visit.person.style
        if self.chance.random() < 0.08:
            return case
        seen = self.chance.choice(planted.seen) if planted and self.chance.random() < 0.7 else ""
        return replace(case, note=self.tools.notes.note(case, style, self.chance, seen=seen))


def who(cause: Cause, trade: Trade, chance: Random) -> Person:
    """Who gets the car: somebody who may do the test that settles it."""
    able = [each for each in people() if each.skill >= trade.tests[cause.confirm_test].skill]
    return chance.choices(able, weights=[each.share for each in able])[0]
