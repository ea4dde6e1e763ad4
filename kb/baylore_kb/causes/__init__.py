"""What it could be: a posterior over listed causes, the shop's own, and one not listed yet."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np

from baylore_kb.causes.beliefs import Beliefs, Floats, beliefs_of
from baylore_kb.causes.columns import Columns
from baylore_kb.causes.conflicts import conflicts
from baylore_kb.causes.evidence import Evidence, of_readings, of_tests, often_away, shown_log, together
from baylore_kb.causes.moved import Piece, Pieces
from baylore_kb.causes.objected import of_objections
from baylore_kb.causes.pool import as_count, new_share, pooled, unlisted_share
from baylore_kb.causes.prior import Base, trade_prior
from baylore_kb.causes.readings_said import tests_by_readings
from baylore_kb.causes.reweigh import drawn, reweighed
from baylore_kb.causes.rows import Rows, dropped
from baylore_kb.causes.tried import of_tried
from baylore_kb.causes.weighing import STILL_SHOWN, Shown, Weighing
from baylore_kb.index import Snapshot
from baylore_kb.once_each import once_for_two
from baylore_kb.question import Question
from baylore_kb.tally import Counts, Tally, cure_weight, later_tests
from baylore_kb.values import Conflict, Dropped, Match, TestDone

__all__ = ["Beliefs", "Columns", "Dropped", "Posterior", "beliefs_of", "posterior"]

ALPHA = 3.0
TRADE_EVIDENCE = 30.0


@dataclass(frozen=True, slots=True)
class Posterior:
    """Causes by falling chance; their chances and `unlisted` sum to 1, none is 0 or 1.

    `settled` is the cause a test showed by itself, None once mending it did not help. `dropped` are leading
    causes that results pushed down; `conflicts` is evidence that does not fit together.
    """

    causes: Rows
    unlisted: float
    dropped: tuple[Dropped, ...]
    settled: str | None
    columns: Columns
    tally: Tally
    conflicts: tuple[Conflict, ...]
    weighing: Weighing = field(repr=False)
    chances: Floats = field(repr=False)

    def chance(self, cause: str) -> float:
        """The cause's chance; 0 for one that is not in question."""
        column = self.columns.at.get(cause)
        return 0.0 if column is None else float(self.chances[column])

    def by_column(self) -> Floats:
        """(N) the chances in the order of the columns, the unlisted one last."""
        return self.chances.copy()

    def reweighed(self, matches: tuple[Match, ...]) -> tuple[Match, ...]:
        """The matches after the evidence, best first: those whose cause it speaks against fall.

        What a match already compared (tests done on both cars, readings taken of both) is left out, so that
        nothing counts twice. Without any results the matches come back as they are.
        """
        return reweighed(matches, self.weighing, self.columns)

    def drawn(self, matches: tuple[Match, ...]) -> tuple[Match, ...]:
        """The matches reweighed and drawn some way towards the chances of their causes, best first."""
        return drawn(matches, self.weighing, self.columns, causes=self.chances)


def posterior(
    question: Question,
    matches: tuple[Match, ...],
    snapshot: Snapshot,
    *,
    tally: Tally | None = None,
    temperature: float = 1.0,
    trust: float = 1.0,
) -> Posterior:
    """The chances of all causes after the words, the past cases and everything tested, tried and objected to.

    `tally` replaces the snapshot's counts (as when a case is left out). `temperature` > 0, of what is
    known before tests, and `trust` > 0, the exponent of what tests say, are the shop's own. Nothing
    heard and no cases give a broad answer with a large unlisted share, never an error.
    """
    counts = snapshot.tally if tally is None else tally
    beliefs = beliefs_of(snapshot.trade)
    closed = tuple(match for match in matches if match.case.cause is not None)
    columns = Columns.of(beliefs, _own_causes(beliefs, closed, question))
    base = _base(question, beliefs, counts)
    prior = _pooled(base, closed, columns, counts)
    said = _weighing(question, columns, prior, tally=counts)
    weighing = replace(said, temperature=temperature, trust=trust)
    every = weighing.chances(weighing.all_but_one())
    pieces = Pieces(_pieces(base, closed, weighing), every)
    return Posterior(
        causes=Rows(every[0], columns, closed, pieces=pieces),
        unlisted=float(every[0, -1]),
        dropped=dropped(weighing.prior[0], pieces, columns),
        settled=_settled(weighing.shown, every[0], columns),
        columns=columns,
        tally=counts,
        conflicts=conflicts(question, weighing, columns, every),
        weighing=weighing,
        chances=every[0],
    )


def _own_causes(beliefs: Beliefs, closed: tuple[Match, ...], question: Question) -> tuple[str, ...]:
    complaint = question.complaint
    found = [match.case.cause for match in closed if match.case.cause]
    found += [done.part for done in complaint.tests if done.part]
    return tuple(cause for cause in dict.fromkeys(found) if cause not in beliefs.cause_at)


def _base(question: Question, beliefs: Beliefs, tally: Tally) -> Base:
    return trade_prior(
        beliefs,
        [(each.symptom, each.chance) for each in question.heard if each.symptom in beliefs.symptom_at],
        codes=question.codes,
        mentioned={named.component: named.weight for named in question.mentioned},
        absent=question.absent,
        shows_when=question.complaint.shows_when,
        tally=tally,
    )


def _pooled(base: Base, closed: tuple[Match, ...], columns: Columns, tally: Tally) -> Floats:
    """(H + 2, N) the trade's shares pooled with past cases: all, without each hint, without the cases.

    A cause that no list and no case knows, but that a test showed, starts as one case would have it.
    """
    hints, listed = base.shares.shape
    shares = np.zeros((hints + bool(closed), len(columns.ids)))
    counts = np.zeros_like(shares)
    shares[:hints, :listed], counts[:hints] = base.shares, _counted(closed, columns)
    heard = base.heard
    if closed:
        shares[-1], heard = shares[0], np.append(heard, heard[0])
    new = _never_named(columns.beliefs, tally.causes)
    unlisted = np.maximum(new, unlisted_share(TRADE_EVIDENCE * heard + counts.sum(axis=1)))[:, None]
    known = pooled(counts, shares, alpha=ALPHA)
    return np.concatenate([known * (1.0 - unlisted), unlisted], axis=1)


def _counted(closed: tuple[Match, ...], columns: Columns) -> Floats:
    """(N - 1) how much the past cases count for each cause; 1 for one that a test alone showed."""
    of_cases = [columns.at[match.case.cause or ""] for match in closed]
    odds = as_count([match.chance if match.before_tests is None else match.before_tests for match in closed])
    cures = [cure_weight(match.case) for match in closed]
    by_test = set(range(len(columns.beliefs.causes), len(columns.ids))).difference(of_cases)
    places = np.array([*of_cases, *by_test], dtype=np.intp)
    weights = np.append(odds * cures, np.ones(len(by_test)))
    return np.asarray(np.bincount(places, weights, minlength=len(columns.ids)), dtype=np.float64)


@once_for_two
def _never_named(beliefs: Beliefs, causes: Mapping[str, Counts]) -> float:
    return new_share(causes.values(), beliefs.cause_at)


def _weighing(question: Question, columns: Columns, prior: Floats, *, tally: Tally) -> Weighing:
    complaint = question.complaint
    away = often_away(complaint)
    pointed = _pointed_at(complaint.tests, columns.beliefs)
    tests = [done for done in later_tests(complaint.tests) if pointed is None or done.test != pointed.test]
    said = tests_by_readings(question, columns.beliefs)
    results: list[Evidence] = [
        *of_tests(tests, columns, tally=tally, comes_and_goes=away),
        *of_readings(said, columns, tally=tally, comes_and_goes=away),
        *of_objections(complaint.objections, columns),
    ]
    return Weighing(
        prior=prior,
        results=tuple(results),
        logs=np.array([result.log for result in results]).reshape(-1, columns.count),
        together=together(results, columns),
        shown=_shown(pointed, columns, tally) if pointed else None,
        tried=of_tried(complaint, columns, comes_and_goes=away),
    )


def _pointed_at(tests: tuple[TestDone, ...], beliefs: Beliefs) -> TestDone | None:
    """The last test that showed the very part; of a listed test only by an outcome that can."""
    pointing = (done for done in reversed(later_tests(tests)) if done.part and done.fault_present)
    return next((done for done in pointing if beliefs.can_point(done.test, done.outcome)), None)


def _shown(pointed: TestDone, columns: Columns, tally: Tally) -> Shown:
    cause = pointed.part or ""
    known = columns.beliefs.trade.tests.get(pointed.test)
    return Shown(
        columns.at[cause],
        pointed.test,
        f"{known.title if known else pointed.test}: {columns.title(cause)}",
        shown_log(pointed, columns, tally),
    )


def _settled(shown: Shown | None, chances: Floats, columns: Columns) -> str | None:
    still = shown is not None and chances[shown.column] >= STILL_SHOWN
    return columns.ids[shown.column] if shown and still else None


def _pieces(base: Base, closed: tuple[Match, ...], weighing: Weighing) -> tuple[Piece, ...]:
    """In the order of the rows that leave them out."""
    hints = [Piece(hint.label) for hint in base.hints]
    cases = [Piece("Your like cases", cases=True)] if closed else []
    results = [Piece(result.label, result=True) for result in weighing.results]
    shown = [Piece(weighing.shown.label, result=True)] if weighing.shown else []
    tried = [Piece(each.label, result=True) for each in weighing.tried]
    return (*hints, *cases, *results, *shown, *tried)
