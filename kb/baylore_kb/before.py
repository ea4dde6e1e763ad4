"""What was looked at on this model before, for such a complaint, and found good."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import lru_cache
from itertools import islice
from statistics import median

import numpy as np

from baylore_kb.causes import Posterior
from baylore_kb.causes.beliefs import Beliefs, Floats
from baylore_kb.question import Question
from baylore_kb.tally import later_tests
from baylore_kb.values import Case, Match, RuledOut, TestDone, Vehicle
from baylore_kb.vehicle import YEAR_BAND, name_key

MOST_ROWS, MOST_NAMED = 5, 4
LIKE, SYSTEMS_IN_QUESTION = 0.1, 3
# An outcome clears a cause that it makes at most half as likely as anything else.
CLEARS = 0.5
# A cause less likely than this now is not worth naming.
IN_QUESTION = 0.002


@dataclass(slots=True)
class _Seen:
    """A test with one outcome over several cases: the causes it cleared and the minutes it took."""

    times: int = 0
    minutes: list[float] = field(default_factory=list)
    cleared: set[int] = field(default_factory=set)


def ruled_out_before(
    question: Question, matches: Iterable[Match], posterior: Posterior
) -> tuple[RuledOut, ...]:
    """At most five tests that cleared causes now in question on cars of this model, most useful first.

    A case counts if it is closed, of the same make and model and at most four years apart (a year not known
    fits), and its complaint was like this one or its cause lies in a system in question. A test clears the
    causes it names whose chance its outcome halves or more; what pointed to the case's own cause cleared
    nothing, and neither did a test while the fault was away. Minutes are the middle of those written, None
    without. Tests already done now are left out; without a model there is nothing to say.
    """
    beliefs = posterior.columns.beliefs
    seen: dict[tuple[str, str], _Seen] = defaultdict(_Seen)
    done_now = {done.test for done in question.complaint.tests}
    for case in _like_cases(question, matches):
        for done in later_tests(case.complaint.tests):
            if done.test in done_now or not done.fault_present or done.part:
                continue
            cleared = _cleared(beliefs, done.test, done.outcome, case.cause or "")
            if cleared:
                _count(seen[done.test, done.outcome], done, cleared)
    chances = posterior.by_column()[: len(beliefs.causes)]
    order = sorted(seen, key=lambda key: (-_use(seen[key], chances), key))
    rows = (_row(key, seen[key], chances, beliefs) for key in order)
    return tuple(islice((row for row in rows if row.causes), MOST_ROWS))


def _like_cases(question: Question, matches: Iterable[Match]) -> Iterable[Case]:
    mine, suspects = question.complaint.vehicle, tuple(question.systems)[:SYSTEMS_IN_QUESTION]
    for match in matches if mine.model else ():
        case = match.case
        if case.state != "closed" or case.cause is None or not _same_model(case.complaint.vehicle, mine):
            continue
        if match.chance >= LIKE or case.cause_system in suspects or case.cause.split(".")[0] in suspects:
            yield case


def _same_model(one: Vehicle, other: Vehicle) -> bool:
    if name_key(one.model) != name_key(other.model):
        return False
    if one.make and other.make and name_key(one.make) != name_key(other.make):
        return False
    return one.year is None or other.year is None or abs(one.year - other.year) <= YEAR_BAND


@lru_cache(maxsize=10_000)
def _cleared(beliefs: Beliefs, test: str, outcome: str, cause: str) -> frozenset[int]:
    """Columns of the causes a test's outcome spoke against; none where it led to the case's cause."""
    if not beliefs.knows(test, outcome):
        return frozenset()
    row, named = beliefs.row(test, outcome), beliefs.named[beliefs.test_at[test]]
    found = named & (row[:-1] <= CLEARS * row[-1])
    column = beliefs.cause_at.get(cause)
    if column is not None and (found[column] or (named[column] and row[column] > row[-1])):
        return frozenset()
    return frozenset(np.flatnonzero(found).tolist())


def _count(seen: _Seen, done: TestDone, cleared: frozenset[int]) -> None:
    seen.times += 1
    seen.cleared |= cleared
    if done.minutes is not None:
        seen.minutes.append(done.minutes)


def _use(seen: _Seen, chances: Floats) -> float:
    """The chance now held by what it cleared, surer the oftener it did."""
    return float(chances[sorted(seen.cleared)].sum()) * seen.times / (seen.times + 1)


def _row(key: tuple[str, str], seen: _Seen, chances: Floats, beliefs: Beliefs) -> RuledOut:
    test = beliefs.trade.tests[key[0]]
    return RuledOut(
        test=test.id,
        title=test.title,
        means=next(outcome.means for outcome in test.outcomes if outcome.id == key[1]),
        times=seen.times,
        minutes=float(median(seen.minutes)) if seen.minutes else None,
        causes=_named(seen.cleared, chances, beliefs),
    )


def _named(cleared: set[int], chances: Floats, beliefs: Beliefs) -> tuple[str, ...]:
    """At most four titles of what was cleared and is in question now, likeliest first.

    The component's where nothing else of it is in question, else the cause's: a good connector does not
    clear the module behind it.
    """
    trade, titles = beliefs.trade, dict[str, None]()
    open_now = [place for place in cleared if chances[place] >= IN_QUESTION]
    still_open = chances >= IN_QUESTION
    still_open[open_now] = False
    for place in sorted(open_now, key=lambda place: (-chances[place], place)):
        cause = trade.causes[beliefs.causes[place]]
        whole = not (beliefs.of_component[cause.component] & still_open).any()
        titles[trade.components[cause.component].title if whole else cause.title] = None
        if len(titles) == MOST_NAMED:
            break
    return tuple(titles)
