"""From a posterior and the offered tests to the planner's arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from baylore_kb.causes import Posterior
from baylore_kb.causes.evidence import PRESENT_WHEN_COMES_AND_GOES
from baylore_kb.causes.outcome_tables import outcome_tables
from baylore_kb.plan.doing import doing_minutes
from baylore_kb.plan.mends import UNKNOWN_REPAIR_MIN, Mend
from baylore_kb.plan.named_parts import split_by_part
from baylore_kb.plan.places import Setups, runs, setups_of
from baylore_kb.plan.problem import STAYS, Floats, Ints, Problem
from baylore_kb.trade.model import Test
from baylore_kb.values import CauseChance

MOST_CAUSES = 20
LEAST_CHANCE = 0.004
# Giving a job away: telling, towing and waiting, then a dearer diagnosis and repair; common practice,
# no published source.
HAND_OVER_MIN, DEARER, DIAGNOSIS_MIN = 60.0, 1.5, 90.0
V = TypeVar("V", float, Floats)


@dataclass(frozen=True, slots=True)
class Layout:
    """The problem, what its axes are, and the tests' plain outcome chances.

    `lik` (T, O, C) has the tests' own outcomes; in `problem` an outcome that names the part is split by
    part. The last column is every other cause and the unlisted one together. `now`: the test that left the
    car where it stands. `problem` knows set-up from there only; `near` adds the set-up between tests.
    `warm`: an earlier test ran the engine.
    """

    problem: Problem
    rows: tuple[CauseChance, ...]
    mends: tuple[Mend, ...]
    tests: tuple[Test, ...]
    lik: Floats
    setups: Setups
    now: Test | None
    warm: bool | None = None

    @property
    def minutes(self) -> Floats:
        """(T) minutes of each test from where the car stands, set-up included."""
        problem = self.problem
        return problem.test_cost + problem.setup[problem.place, problem.repairs :]

    def near(self, chosen: Ints) -> Problem:
        """The problem with only the chosen tests, and with the places the car is in after each of them."""
        problem, tests = self.problem.keep_tests(chosen), [self.tests[k] for k in chosen]
        table = self.setups.table(self.now, tests, warm=self.warm)
        still = np.zeros((len(tests) + 1, problem.repairs))
        goes = np.concatenate([np.full(problem.repairs, STAYS), np.arange(1, len(tests) + 1)])
        return replace(problem, setup=np.hstack([still, table]), goes_to=goes)


def leading(posterior: Posterior) -> tuple[CauseChance, ...]:
    """The causes worth planning for by themselves, likeliest first; at least one."""
    likely = [row for row in posterior.causes[:MOST_CAUSES] if row.probability >= LEAST_CHANCE]
    return tuple(likely or posterior.causes[:1])


def lay_out(
    posterior: Posterior,
    mends: tuple[Mend, ...],
    *,
    tests: Sequence[Test],
    done: Sequence[Test],
    comes_and_goes: bool,
) -> Layout:
    """The planning problem of these mends and tests with the car as the tests `done` left it."""
    rows = leading(posterior)
    chances = np.array([row.probability for row in rows])
    p = np.append(chances, max(1.0 - chances.sum(), 1e-6))
    cures = _cures(rows, mends)
    cost = np.array([mend.cost for mend in mends])
    beliefs = posterior.columns.beliefs
    at = np.array([beliefs.test_at[test.id] for test in tests], dtype=np.intp)
    lik = _likelihoods(posterior, rows, tests=at, comes_and_goes=comes_and_goes)
    now, warm = (done[-1], any(map(runs, done))) if done else (None, None)
    setups = setups_of(beliefs.trade)
    problem = Problem(
        p=p / p.sum(),
        repair_cost=cost,
        cures=cures,
        test_cost=doing_minutes(beliefs, posterior.tally)[at],
        lik=split_by_part(lik, at, rows, beliefs),
        setup=np.hstack([np.zeros((1, len(mends))), setups.between([now], tests, [warm])]),
        goes_to=np.full(len(mends) + len(tests), STAYS),
        fallback=_fallback(cost, cures),
    )
    return Layout(problem, rows, mends, tuple(tests), lik, setups, now, warm)


def _cures(rows: Sequence[CauseChance], mends: Sequence[Mend]) -> Floats:
    cures = [[float(row.cause in mend.cures) for row in rows] + [0.0] for mend in mends]
    return np.array(cures).reshape(len(mends), len(rows) + 1)


def _fallback(cost: Floats, cures: Floats) -> Floats:
    repair = cost @ cures
    repair[-1] = 2.0 * UNKNOWN_REPAIR_MIN
    return np.asarray(away_minutes(repair))


def away_minutes(repair: V) -> V:
    """Minutes of giving a job away whose repair takes so many here, one number or an array."""
    return HAND_OVER_MIN + DEARER * (DIAGNOSIS_MIN + repair)


def _likelihoods(
    posterior: Posterior, rows: Sequence[CauseChance], *, tests: Ints, comes_and_goes: bool
) -> Floats:
    """(T, O, C) P(outcome | cause) of the tests at these places of the lists."""
    columns = posterior.columns
    picked = np.array([columns.at[row.cause] for row in rows])
    chances = posterior.by_column()
    chances[picked] = 0.0
    chances /= chances.sum()
    tables = outcome_tables(columns.beliefs, posterior.tally)
    found = np.empty((len(tests), tables.other.shape[1], len(rows) + 1))
    found[..., :-1] = tables.of_causes(tests, columns, picked)
    found[..., -1] = tables.of_any(tests, columns, chances)
    if comes_and_goes:
        share = PRESENT_WHEN_COMES_AND_GOES
        found = share * found + (1.0 - share) * tables.other[tests, :, None]
    return found
