"""What it could be: a posterior over listed causes, the shop's own, and one not listed yet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.causes.beliefs import Beliefs, Floats, beliefs_of
from baylore_kb.causes.evidence import Columns, Evidence, of_parts, of_tests
from baylore_kb.causes.pool import as_count, at_temperature, bayes, pooled, unlisted_share
from baylore_kb.causes.prior import heard_share, trade_prior
from baylore_kb.causes.readings_said import tests_by_readings
from baylore_kb.index import Snapshot
from baylore_kb.question import Question
from baylore_kb.tally import Tally, later_tests
from baylore_kb.values import CauseChance, Dropped, Match, TestDone

__all__ = ["Beliefs", "Columns", "Dropped", "Posterior", "beliefs_of", "posterior"]

ALPHA = 3.0
TRADE_EVIDENCE = 12.0
SPEAKS_FOR = 0.1
SETTLED = 0.97
LEAST_UNLISTED, LEAST_UNLISTED_SETTLED = 0.05, 0.02
FAMOUS, FELL_TO = 0.1, 0.5


@dataclass(frozen=True, slots=True)
class Posterior:
    """Causes by falling chance; their chances and `unlisted` sum to 1, none is 0 or 1.

    `settled` is the cause a test showed by itself. `dropped` are leading causes that results pushed down.
    """

    causes: tuple[CauseChance, ...]
    unlisted: float
    dropped: tuple[Dropped, ...]
    settled: str | None
    columns: Columns
    tally: Tally

    def chance(self, cause: str) -> float:
        """The cause's chance; 0 for one that is not in question."""
        return next((row.probability for row in self.causes if row.cause == cause), 0.0)


def posterior(
    question: Question,
    matches: tuple[Match, ...],
    snapshot: Snapshot,
    *,
    tally: Tally | None = None,
    temperature: float = 1.0,
) -> Posterior:
    """The chances of all causes after the words, the past cases and everything tested and tried.

    `tally` replaces the snapshot's counts (as when a case is left out). `temperature` > 0 is the shop's
    own: below 1 it may sound surer. Nothing heard and no cases give a
    broad answer with a large unlisted share, never an error.
    """
    counts = snapshot.tally if tally is None else tally
    beliefs = beliefs_of(snapshot.trade)
    closed = tuple(match for match in matches if match.case.cause is not None)
    columns = Columns.of(beliefs, _own_causes(beliefs, closed, question.complaint.tests))
    prior = _pooled_prior(question, closed, columns, counts)
    results = _evidence(question, columns, counts)
    updated = at_temperature(_update(prior, results), temperature)
    after = _floored(_settle(updated, question, columns), question, columns)
    return Posterior(
        causes=_rows(after, columns, closed),
        unlisted=float(after[-1]),
        dropped=_dropped(prior, after, columns=columns, results=results),
        settled=_settled(question, columns),
        columns=columns,
        tally=counts,
    )


def _own_causes(beliefs: Beliefs, closed: tuple[Match, ...], tests: tuple[TestDone, ...]) -> tuple[str, ...]:
    found = [match.case.cause for match in closed if match.case.cause] + [
        done.part for done in tests if done.part
    ]
    return tuple(cause for cause in dict.fromkeys(found) if cause not in beliefs.cause_at)


def _pooled_prior(question: Question, closed: tuple[Match, ...], columns: Columns, tally: Tally) -> Floats:
    known = columns.beliefs.symptom_at
    heard = [(each.symptom, each.chance) for each in question.heard if each.symptom in known]
    base = trade_prior(
        columns.beliefs,
        heard,
        codes=question.codes,
        mentioned={named.component: named.weight for named in question.mentioned},
        absent=question.absent,
        tally=tally,
    )
    counts = [(match.case.cause or "", _weight(match)) for match in closed]
    shares = pooled(counts, dict(zip(columns.beliefs.causes, base, strict=True)), alpha=ALPHA)
    evidence = TRADE_EVIDENCE * heard_share(heard) + sum(weight for _, weight in counts)
    unlisted = unlisted_share(evidence)
    listed = np.array([shares.get(cause, 0.0) for cause in columns.ids])
    return np.append(listed * (1.0 - unlisted), unlisted)


def _weight(match: Match) -> float:
    cured = match.case.verified and not match.case.returned_as
    return as_count(match.chance) * (1.0 if cured else 0.5)


def _evidence(question: Question, columns: Columns, tally: Tally) -> list[Evidence]:
    complaint = question.complaint
    away = complaint.comes_and_goes or _not_seen(complaint.tests)
    pointed = _pointed_at(complaint.tests, columns.beliefs)
    tests = [done for done in later_tests(complaint.tests) if pointed is None or done.test != pointed.test]
    tests += tests_by_readings(question, columns.beliefs)
    return of_tests(tests, columns, tally=tally, comes_and_goes=away) + of_parts(complaint.parts, columns)


def _not_seen(tests: tuple[TestDone, ...]) -> bool:
    return any(done.test == "verify_complaint" and done.outcome == "not_seen" for done in later_tests(tests))


def _pointed_at(tests: tuple[TestDone, ...], beliefs: Beliefs) -> TestDone | None:
    """The last test that showed the very part; of a listed test only by an outcome that can."""
    pointing = (done for done in reversed(later_tests(tests)) if done.part and done.fault_present)
    return next((done for done in pointing if beliefs.can_point(done.test, done.outcome)), None)


def _settled(question: Question, columns: Columns) -> str | None:
    found = _pointed_at(question.complaint.tests, columns.beliefs)
    return found.part if found and found.part in columns.at else None


def _update(prior: Floats, results: list[Evidence]) -> Floats:
    logs = sum((result.log for result in results), np.zeros(len(prior)))
    return bayes(prior, np.exp(logs - logs.max()))


def _settle(chances: Floats, question: Question, columns: Columns) -> Floats:
    """The part a test showed takes nearly all, unless a new one of it changed nothing afterwards."""
    cause = _settled(question, columns)
    if cause is None:
        return chances
    shown = np.zeros(len(chances))
    shown[columns.at[cause]] = 1.0
    mixed = SETTLED * shown + (1.0 - SETTLED) * chances
    return _update(mixed, of_parts(question.complaint.parts, columns))


def _floored(chances: Floats, question: Question, columns: Columns) -> Floats:
    least = LEAST_UNLISTED if _settled(question, columns) is None else LEAST_UNLISTED_SETTLED
    unlisted = max(float(chances[-1]), least)
    listed = np.maximum(chances[:-1], 1e-9)
    return np.append(listed * (1.0 - unlisted) / listed.sum(), unlisted)


def _rows(chances: Floats, columns: Columns, closed: tuple[Match, ...]) -> tuple[CauseChance, ...]:
    seen: dict[str, int] = {}
    own: dict[str, tuple[str, str | None]] = {}
    for match in closed:
        cause = match.case.cause or ""
        own.setdefault(cause, (match.case.cause_title or cause, match.case.cause_system))
        seen[cause] = seen.get(cause, 0) + (match.chance >= SPEAKS_FOR)
    rows = [
        _row(cause, float(chances[column]), columns=columns, cases=seen.get(cause, 0), own=own)
        for column, cause in enumerate(columns.ids)
    ]
    return tuple(sorted(rows, key=lambda row: (-row.probability, row.cause)))


def _row(
    cause: str, chance: float, *, columns: Columns, cases: int, own: Mapping[str, tuple[str, str | None]]
) -> CauseChance:
    known = columns.beliefs.trade.causes.get(cause)
    title, system = (known.title, known.system) if known else own.get(cause, (cause, None))
    source = f"{cases} of your cases" if cases else "trade knowledge"
    return CauseChance(cause, title, chance, cases, system, source)


def _dropped(
    before: Floats, after: Floats, *, columns: Columns, results: list[Evidence]
) -> tuple[Dropped, ...]:
    found = []
    for column in np.argsort(-before[:-1], kind="stable")[:5]:
        fell = before[column] >= FAMOUS and after[column] <= FELL_TO * before[column]
        if results and fell:
            worst = min(results, key=lambda result: result.log[column] - result.log.max())
            cause = columns.ids[column]
            known = columns.beliefs.trade.causes.get(cause)
            title = known.title if known else cause
            found.append(Dropped(cause, title, float(before[column]), float(after[column]), worst.label))
    return tuple(found)
