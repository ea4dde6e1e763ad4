"""Evidence that does not fit together, in a technician's words, each with what to do about it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

import numpy as np

from baylore_kb.causes.beliefs import Beliefs, Floats
from baylore_kb.causes.columns import Columns
from baylore_kb.causes.evidence import Evidence
from baylore_kb.causes.tried import Tried
from baylore_kb.causes.weighing import Split, Weighing
from baylore_kb.question import Question
from baylore_kb.readings import outcome_of, quantity_named
from baylore_kb.tally import later_tests
from baylore_kb.trade.model import Test, Trade
from baylore_kb.values import Conflict, Judged, TestDone

LEADS, UNLIKELY, TIMES_LESS = 0.2, 0.1, 3.0
IN_QUESTION, WELL_EXPLAINED, JOINTLY = 0.01, 0.3, 0.15
CONFIRMED, SPEAKS_OUT = 0.7, 5.0
HELPED = ("partly", "no change")
# A new part is proved first when it is dead at least this often against a second fault.
MAY_BE_DEAD = 0.5


def conflicts(
    question: Question, weighing: Weighing, columns: Columns, chances: Floats
) -> tuple[Conflict, ...]:
    """All conflicts: parts and repairs first, then readings, repeated tests, pairs, and single outcomes.

    `chances` are the rows of `Weighing.all_but_one`. Nothing at odds gives ().
    """
    tests, beliefs = question.complaint.tests, columns.beliefs
    pairs = tuple(_pairs(weighing))
    told = {step for conflict in pairs for step in conflict.steps}
    lone = (c for c in _outcomes(weighing, columns, chances) if not told.intersection(c.steps))
    return (
        *_tried(weighing),
        *_readings(question, beliefs),
        *_repeats(tests, beliefs.trade),
        *pairs,
        *lone,
    )


def _tried(weighing: Weighing) -> Iterator[Conflict]:
    for place, each in enumerate(weighing.tried):
        if each.result not in HELPED or _superseded(each, weighing.tried[place + 1 :]):
            continue
        split = weighing.split(place)
        if each.result == "partly":
            yield _half_cure(each, split)
            continue
        by = _proved(each, weighing)
        if by is not None:
            yield _no_cure(each, split, by)


def _superseded(each: Tried, later: tuple[Tried, ...]) -> bool:
    return any(other.what == each.what and other.result == "cured" for other in later)


def _half_cure(each: Tried, split: Split) -> Conflict:
    """After "partly": a poor part of the right kind, or a second fault, whichever is likelier."""
    place = "likely" if split.still >= split.elsewhere else "perhaps"
    done = f"{_done(each)} changed the complaint without curing it"
    if split.still >= split.two:
        poor = "but the part is poor" if each.source else "but not mended well"
        remedy = f"{_prove_it(each)} before looking elsewhere."
        return Conflict("part", f"{done}: {place} the right place, {poor}.", remedy, (each.what,))
    return Conflict(
        "two faults",
        f"{done}: there may be a second fault beside it.",
        "Write down what still is wrong and test that as a complaint of its own.",
        (each.what,),
    )


def _done(each: Tried) -> str:
    return f"New {_inside(each.title)} ({each.source})" if each.source else f"The repair ({each.title})"


def _inside(title: str) -> str:
    """A title as it stands inside a sentence; abbreviations keep their capitals."""
    return title[:1].lower() + title[1:] if title[1:2].islower() else title


def _prove_it(each: Tried) -> str:
    """How to prove the mend itself."""
    if not each.source:
        return "Look at the repair again and measure it under load"
    if each.source == "maker":
        return "Check fitting, connector and learning of the new part"
    return "Measure the new part against the maker's figures, or fit a maker's part"


def _no_cure(each: Tried, split: Split, by: str) -> Conflict:
    """After "no change" of what a test had proved bad: start again without it."""
    first = f"{_prove_it(each)}, then go on" if split.still >= MAY_BE_DEAD * split.two else "Go on"
    return Conflict(
        "two faults",
        f"{each.title} was proved bad ({by}) and mended, yet the complaint stays.",
        f"{first} as if it had never been suspected: a second fault is likely, or that test misled.",
        (each.what,),
    )


def _proved(each: Tried, weighing: Weighing) -> str | None:
    """The words of the test that had proved a cause the mend hits; None when none had."""
    shown = weighing.shown
    if shown is not None and each.hit[shown.column]:
        return shown.label
    before = weighing.before_tried(weighing.everything())[0]
    if before[each.hit].sum() < CONFIRMED:
        return None
    mended = weighing.likeliest(each)
    said = [(float(r.log[mended] - r.log[-1]), r.label) for r in weighing.results if r.test]
    strongest = max(said, default=(0.0, ""))
    return strongest[1] if strongest[0] >= np.log(SPEAKS_OUT) else None


def _readings(question: Question, beliefs: Beliefs) -> Iterator[Conflict]:
    """A reading that says another outcome of a test done by hand than the one tapped."""
    for done in later_tests(question.complaint.tests):
        test = beliefs.trade.tests.get(done.test)
        if test is None or not done.fault_present or not beliefs.knows(done.test, done.outcome):
            continue
        said = [_agrees(judged, test, done.outcome, beliefs.trade) for judged in question.judged]
        odd = [judged for judged, fits in zip(question.judged, said, strict=True) if fits is False]
        if odd and True not in said:
            yield _reading_conflict(odd[-1], test, done)


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


def _reading_conflict(judged: Judged, test: Test, done: TestDone) -> Conflict:
    reading, means = judged.reading, _means(test, done.outcome)
    value = f"{reading.quantity.replace('_', ' ')} {reading.value:g} {reading.unit}"
    return Conflict(
        "reading",
        f'{value} does not go with "{means}" of {test.title}.',
        "Read it again under load at the same point, check the unit, and correct whichever is wrong.",
        (done.test, reading.quantity),
    )


def _repeats(tests: tuple[TestDone, ...], trade: Trade) -> Iterator[Conflict]:
    """A test done again with another outcome while the fault was equally there."""
    last = {done.test: done for done in tests}
    for id, done in last.items():
        test = trade.tests.get(id)
        before = [each for each in tests if each.test == id and each.fault_present == done.fault_present]
        other = next((each for each in reversed(before) if each.outcome != done.outcome), None)
        if test is not None and other is not None:
            first, later = _means(test, other.outcome), _means(test, done.outcome)
            yield Conflict(
                "outcome",
                f'{test.title} showed "{first}" and, done again, "{later}"; the later counts.',
                "If nothing was mended in between, do it once more in the conditions the fault shows in.",
                (id,),
            )


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
