"""How good the shop's own memory is: every closed case asked of the others, through the front door."""

from __future__ import annotations

import zlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from baylore_kb.advice import SHIPPED_TUNING, Tuning, advise
from baylore_kb.heldout import as_asked, held_out, same_job
from baylore_kb.index import Snapshot
from baylore_kb.metrics import Reliability, log_loss, mean_over, ndcg, reliability, success
from baylore_kb.simulation import Job, World, job_by_frequency, job_by_plan
from baylore_kb.values import Advice, Case, Complaint, Terms

TOP = (1, 3, 10)
ROUGH_BELOW = 100


@dataclass(frozen=True, slots=True)
class Score:
    """Leave-one-out quality; shares and chances in [0, 1], None where nothing could be asked.

    `asked` closed cases, each without itself and the same car's other visits; `alone` of them had no
    other case with their cause. `case_hits`: share whose first 1, 3, 10 past cases hold the same cause,
    and `case_ndcg`, over those that are not alone. `cause_hits`: share whose true cause is among the
    first 1, 3, 10 named. `calibration` is of the first cause's chance, `loss` its log loss. `unlisted` is
    the mean share kept for causes not named, `missing` how often the cause was not named. `by_plan` and
    `by_frequency`: mean minutes of `jobs` simulated jobs done by the advice, and by replacing the
    likeliest part first.
    """

    asked: int
    alone: int
    case_hits: Mapping[int, float | None]
    case_ndcg: float | None
    cause_hits: Mapping[int, float | None]
    calibration: Reliability
    loss: float
    unlisted: float
    missing: float
    jobs: int
    by_plan: float | None
    by_frequency: float | None

    @property
    def minutes_saved(self) -> float | None:
        """Mean minutes that the advice saves in a job against replacing by frequency."""
        if self.by_plan is None or self.by_frequency is None:
            return None
        return self.by_frequency - self.by_plan

    def text(self) -> str:
        """The score in plain lines."""
        return "\n".join(_lines(self))


@dataclass(frozen=True, slots=True)
class _Answered:
    case: Case
    advice: Advice
    grades: Mapping[str, float]

    @property
    def run(self) -> list[str]:
        return [match.case.id for match in self.advice.cases]

    @property
    def causes(self) -> list[str]:
        return [row.cause for row in self.advice.causes]


def score(
    snapshot: Snapshot,
    *,
    terms: Terms | None = None,
    tuning: Tuning = SHIPPED_TUNING,
    most_asked: int = 400,
    most_jobs: int = 40,
) -> Score:
    """The score over at most `most_asked` closed cases and `most_jobs` simulated jobs.

    Deterministic: the chance in the simulated jobs is drawn from each case's id. A snapshot without
    closed cases gives a score of nothing asked.
    """
    terms = terms or Terms()
    answered = list(_answered(snapshot, held_out(snapshot, most_asked), terms=terms, tuning=tuning))
    jobs = [_simulated(case, snapshot, terms, tuning) for case in held_out(snapshot, most_jobs)]
    return _summed_up(answered, jobs)


def _answered(
    snapshot: Snapshot, cases: Sequence[Case], *, terms: Terms, tuning: Tuning
) -> Iterator[_Answered]:
    for case in cases:
        hidden = same_job(case, snapshot)
        asked = as_asked(case, with_tests=False)
        answer = advise(asked, snapshot, terms=terms, leave_out=hidden, tuning=tuning)
        yield _Answered(case, answer, _grades(case, snapshot, hidden))


def _grades(case: Case, snapshot: Snapshot, hidden: frozenset[str]) -> dict[str, float]:
    """3 same cause and model, 2 same cause; other cases are not relevant."""
    model = _model(case)
    return {
        other.id: 3.0 if _model(other) == model else 2.0
        for other in snapshot.cases.values()
        if other.id not in hidden and other.state == "closed" and other.cause == case.cause
    }


def _model(case: Case) -> tuple[str, str]:
    return case.complaint.vehicle.make.casefold(), case.complaint.vehicle.model.casefold()


def _simulated(case: Case, snapshot: Snapshot, terms: Terms, tuning: Tuning) -> tuple[Job, Job]:
    hidden = same_job(case, snapshot)
    outcomes = {done.test: done.outcome for done in case.complaint.tests}
    world = World(case, snapshot.trade, snapshot.tally, terms, outcomes)
    bare = as_asked(case, with_tests=False)

    def ask(asked: Complaint) -> Advice:
        return advise(asked, snapshot, terms=terms, leave_out=hidden, tuning=tuning)

    chance = np.random.default_rng(zlib.crc32(case.id.encode()))
    return job_by_plan(bare, ask, world, chance=chance), job_by_frequency(ask(bare), world)


def _summed_up(answered: Sequence[_Answered], jobs: Sequence[tuple[Job, Job]]) -> Score:
    grades = {row.case.id: row.grades for row in answered}
    first = [row.advice.causes[0].probability for row in answered]
    right = [int(row.causes[0] == row.case.cause) for row in answered]
    ndcgs = {row.case.id: ndcg(row.run, row.grades, 10) for row in answered}
    return Score(
        asked=len(answered),
        alone=sum(not row.grades for row in answered),
        case_hits={k: mean_over(_successes(answered, k), grades).mean for k in TOP},
        case_ndcg=mean_over(ndcgs, grades).mean,
        cause_hits={k: _mean([float(row.case.cause in row.causes[:k]) for row in answered]) for k in TOP},
        calibration=reliability(first, right),
        loss=log_loss(first, right),
        unlisted=_mean([row.advice.unlisted for row in answered]) or 0.0,
        missing=_mean([float(row.case.cause not in row.causes) for row in answered]) or 0.0,
        jobs=len(jobs),
        by_plan=_mean([plan.minutes for plan, _ in jobs]),
        by_frequency=_mean([guess.minutes for _, guess in jobs]),
    )


def _successes(answered: Sequence[_Answered], k: int) -> dict[str, float]:
    return {row.case.id: success(row.run, row.grades, k) for row in answered}


def _mean(values: Sequence[float]) -> float | None:
    return sum(values) / len(values) if values else None


def _lines(score: Score) -> Iterator[str]:
    yield f"closed cases asked of the others: {score.asked} ({score.alone} alone with their cause)"
    if not score.asked:
        return
    if score.asked < ROUGH_BELOW:
        yield f"fewer than {ROUGH_BELOW} cases: every figure is rough"
    hits = ", ".join(f"first {k}: {_percent(score.case_hits[k])}" for k in TOP)
    yield f"a past case with the same cause among the {hits}; nDCG@10 {_decimal(score.case_ndcg)}"
    yield "true cause among the " + ", ".join(f"first {k}: {_percent(score.cause_hits[k])}" for k in TOP)
    yield f"calibration error {score.calibration.ece:.3f}, log loss {score.loss:.3f}"
    for row in score.calibration.bins:
        yield f"  said {row.mean_forecast:4.0%}  was {row.share_true:4.0%}  ({row.count} cases)"
    yield f"kept for causes not named {score.unlisted:.0%}, not named {score.missing:.0%}"
    if score.minutes_saved is not None:
        yield (
            f"simulated jobs: {score.jobs}; by the advice {score.by_plan:.0f} min, "
            f"by replacing the likeliest first {score.by_frequency:.0f} min, "
            f"saved {score.minutes_saved:.0f} min a job"
        )


def _percent(share: float | None) -> str:
    return "none asked" if share is None else f"{share:.0%}"


def _decimal(value: float | None) -> str:
    return "none asked" if value is None else f"{value:.3f}"
