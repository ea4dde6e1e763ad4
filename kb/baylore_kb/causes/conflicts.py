"""Evidence that does not fit together, in a technician's words, each with what to do about it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np

from baylore_kb.causes.beliefs import Beliefs, Floats
from baylore_kb.causes.columns import Columns, title_of
from baylore_kb.causes.evidence import Evidence, as_read
from baylore_kb.causes.mended import of_mends
from baylore_kb.causes.weighing import Weighing
from baylore_kb.question import Question
from baylore_kb.readings import outcome_of, quantity_named
from baylore_kb.tally import later_tests
from baylore_kb.trade.model import Test, Trade
from baylore_kb.values import Conflict, Judged, TestDone

LEADS, UNLIKELY, TIMES_LESS = 0.2, 0.1, 3.0
IN_QUESTION, WELL_EXPLAINED, JOINTLY = 0.005, 0.3, 0.15
SPOKE_FOR = 0.5


def conflicts(
    question: Question, weighing: Weighing, columns: Columns, chances: Floats
) -> tuple[Conflict, ...]:
    """All conflicts: parts and repairs first, then objections, readings, repeats, pairs, single outcomes.

    `chances` are the rows of `Weighing.all_but_one`. Nothing at odds gives ().
    """
    tests, beliefs = question.complaint.tests, columns.beliefs
    if not (tests or weighing.results or weighing.tried):
        return ()
    pairs = tuple(_pairs(weighing))
    told = {step for conflict in pairs for step in conflict.steps}
    lone = (c for c in _outcomes(weighing, columns, chances) if not told.intersection(c.steps))
    return (
        *of_mends(weighing),
        *_objections(weighing, columns, chances),
        *_readings(question, beliefs),
        *_repeats(tests, beliefs.trade),
        *pairs,
        *lone,
    )


def _objections(weighing: Weighing, columns: Columns, chances: Floats) -> Iterator[Conflict]:
    """A cause objected to that everything else speaks for."""
    hints = len(weighing.prior) - 1
    for place, result in enumerate(weighing.results):
        about = result.objected
        if about is None or chances[1 + hints + place, columns.at[about.cause]] < SPOKE_FOR:
            continue
        known = columns.beliefs.trade.causes.get(about.cause)
        yield Conflict(
            "outcome",
            f"{columns.title(about.cause)} was objected to ({about.because}), yet all else speaks for it.",
            "Prove it once more under load, or take the objection back.",
            (known.component if known else about.cause,),
        )


def _readings(question: Question, beliefs: Beliefs) -> Iterator[Conflict]:
    """A reading that says another outcome of a test done by hand than the one tapped."""
    for done in later_tests(question.complaint.tests):
        test = beliefs.trade.tests.get(done.test)
        if test is None or not done.fault_present or not beliefs.knows(done.test, done.outcome):
            continue
        said = [_agrees(judged, test, done.outcome, beliefs.trade) for judged in question.judged]
        odd = [judged for judged, fits in zip(question.judged, said, strict=True) if fits is False]
        if odd and True not in said:
            yield _reading_conflict(as_read(odd[-1], beliefs.trade), odd[-1], test, done.outcome)


def _agrees(judged: Judged, test: Test, outcome: str, trade: Trade) -> bool | None:
    """Whether a reading fits the outcome; None where it cannot tell."""
    reading = judged.reading
    if reading.when != "before" or judged.needs or judged.verdict == "implausible":
        return None
    rules = [known.rule for known in test.outcomes if known.rule]
    if quantity_named(reading.quantity, trade).id not in {rule.quantity for rule in rules}:
        return None
    return _meets(judged, test, outcome, trade)


def _meets(judged: Judged, test: Test, outcome: str, trade: Trade) -> bool | None:
    met = [
        known.id
        for known in test.outcomes
        if known.rule and outcome_of(judged, replace(test, outcomes=(known,)), trade)
    ]
    ruled = any(known.id == outcome and known.rule for known in test.outcomes)
    if outcome in met:
        return True
    return False if met or ruled else None


def _reading_conflict(value: str, judged: Judged, test: Test, outcome: str) -> Conflict:
    return Conflict(
        "reading",
        f'{value} does not go with "{_means(test, outcome)}" of {test.title}.',
        "Read it again under load at the same point, check the unit, and correct whichever is wrong.",
        (test.id, judged.reading.quantity),
    )


def _repeats(tests: tuple[TestDone, ...], trade: Trade) -> Iterator[Conflict]:
    """A test done again with another outcome while the fault was equally there."""
    last = {done.test: done for done in tests}
    for id, done in last.items():
        test = trade.tests.get(id)
        before = [each for each in tests if each.test == id and each.fault_present == done.fault_present]
        other = next((each for each in reversed(before) if _otherwise(each, done)), None)
        if test is not None and other is not None:
            first, later = (_showed(test, each, trade) for each in (other, done))
            yield Conflict(
                "outcome",
                f'{test.title} showed "{first}" and, done again, "{later}"; the later counts.',
                "If nothing was mended in between, do it once more in the conditions the fault shows in.",
                (id,),
            )


def _otherwise(one: TestDone, other: TestDone) -> bool:
    """Whether two doings of a test showed different things; a part picked by one alone is no difference."""
    parts = {one.part, other.part} - {None}
    return one.outcome != other.outcome or len(parts) > 1


def _pairs(weighing: Weighing) -> Iterator[Conflict]:
    """Two outcomes that some cause explains each, but none in question explains together."""
    likely = weighing.prior[0] >= IN_QUESTION
    tests = [result for result in weighing.results if result.test]
    for one, other in combinations(tests, 2):
        first, second = np.exp(one.log), np.exp(other.log)
        best = float(first[likely].max()), float(second[likely].max())
        joint = float((first * second)[likely].max())
        if min(best) >= WELL_EXPLAINED and joint < JOINTLY * best[0] * best[1]:
            yield Conflict(
                "outcome",
                f"{one.label}, yet {other.label}: no single cause explains both well.",
                "Do the quicker of the two again, under load and with the fault there; if both stand, "
                "think of two faults.",
                (one.test, other.test),
            )


def _outcomes(weighing: Weighing, columns: Columns, chances: Floats) -> Iterator[Conflict]:
    """An outcome that the leading cause would hardly show while the other causes would."""
    leader = int(np.argmax(chances[0, :-1]))
    if chances[0, leader] < LEADS:
        return
    hints = len(weighing.prior) - 1
    for place, result in enumerate(weighing.results):
        without = chances[1 + hints + place]
        if result.test and _at_odds(result, leader, without):
            title = columns.title(columns.ids[leader])
            yield Conflict(
                "outcome",
                f"{result.label} is not what {title} shows, which leads by everything else.",
                "Do this test again under load with the fault there before buying for either.",
                (result.test,),
            )


def _at_odds(result: Evidence, leader: int, without: Floats) -> bool:
    chances = np.exp(result.log)
    rest = without.copy()
    rest[leader] = 0.0
    others = float(rest @ chances) / max(float(rest.sum()), 1e-12)
    return bool(chances[leader] < UNLIKELY and others >= TIMES_LESS * chances[leader])


def _means(test: Test, outcome: str) -> str:
    return next((known.means for known in test.outcomes if known.id == outcome), outcome)


def _showed(test: Test, done: TestDone, trade: Trade) -> str:
    means = _means(test, done.outcome)
    return f"{means} ({title_of(done.part, trade)})" if done.part else means
