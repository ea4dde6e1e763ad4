"""Readings written down without a test: each acts as the test whose outcome rule it meets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from baylore_kb.causes.beliefs import Beliefs
from baylore_kb.question import Question
from baylore_kb.readings import outcome_of, quantity_named
from baylore_kb.values import Judged, TestDone


@dataclass(frozen=True, slots=True)
class Said:
    """A reading and the test outcome it amounts to."""

    judged: Judged
    test: TestDone


def tests_by_readings(question: Question, beliefs: Beliefs) -> tuple[Said, ...]:
    """Tests not done by hand whose outcome a reading shows, one per quantity; later readings replace earlier.

    Readings taken after the correction say nothing about the cause; a value beyond hard limits, or one
    that no rule speaks of, says nothing either. Nor does a quantity that a test done by hand has judged:
    it was read for that test and must not count twice.
    """
    done = {test.test for test in question.complaint.tests}
    found: dict[str, Said] = {}
    for judged in question.judged:
        quantity = quantity_named(judged.reading.quantity, beliefs.trade).id
        if judged.reading.when != "before" or _judged_by_hand(quantity, done, beliefs):
            continue
        shown = next(_shown(judged, quantity, question=question, beliefs=beliefs), None)
        if shown is not None:
            found[quantity] = Said(judged, shown)
    by_test = {said.test.test: said for said in found.values()}
    return tuple(by_test.values())


def _judged_by_hand(quantity: str, done: set[str], beliefs: Beliefs) -> bool:
    return any(test.id in done for test in beliefs.read_by.get(quantity, ()))


def _shown(judged: Judged, quantity: str, *, question: Question, beliefs: Beliefs) -> Iterator[TestDone]:
    """The tests this reading decides, those of the systems in question first."""
    tests = beliefs.read_by.get(quantity, ())
    for test in sorted(tests, key=lambda test: test.system not in question.systems):
        met = [o.id for o in test.outcomes if outcome_of(judged, replace(test, outcomes=(o,)), beliefs.trade)]
        if met:
            # Rules may overlap ("above 9.6", "above 12.2"): the outcome that is rarer at large says more.
            yield TestDone(test.id, min(met, key=lambda outcome: beliefs.row(test.id, outcome)[-1]))
