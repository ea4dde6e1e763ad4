"""From a posterior and the offered tests to the planner's arrays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from baylore_kb.causes import Posterior
from baylore_kb.causes.evidence import PRESENT_WHEN_COMES_AND_GOES
from baylore_kb.plan.mends import UNKNOWN_REPAIR_MIN, Mend
from baylore_kb.plan.places import Setups, runs, setups_of
from baylore_kb.plan.problem import STAYS, Floats, Ints, Problem
from baylore_kb.tally import Sum
from baylore_kb.trade.model import Test
from baylore_kb.values import CauseChance

MOST_CAUSES = 20
LEAST_CHANCE = 0.004
# Giving a job away: telling, towing and waiting, then a dearer diagnosis and repair; common practice,
# no published source.
HAND_OVER_MIN, DEARER, DIAGNOSIS_MIN = 60.0, 1.5, 90.0
V = TypeVar("V", float, Floats)
# Recorded minutes that outweigh a test's listed ones by themselves.
PRIOR_TIMES = 3.0


@dataclass(frozen=True, slots=True)
class Layout:
    """The problem, what its axes are, and the tests' plain outcome chances.

    `lik` (T, O, C) has the tests' own outcomes; in `problem` an outcome that names the part is split by
    part. The last column is every other cause and the unlisted one together. `doing` (T): minutes without
    set-up. `now`: the test that left the car where it stands. `problem` knows set-up from there only;
    `near` adds the set-up between tests. `warm`: an earlier test ran the engine.
    """

    problem: Problem
    rows: tuple[CauseChance, ...]
    mends: tuple[Mend, ...]
    tests: tuple[Test, ...]
    lik: Floats
    doing: Floats
    setups: Setups
    now: Test | None
    warm: bool | None = None

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
    lik = _likelihoods(posterior, rows, tests=tests, comes_and_goes=comes_and_goes)
    doing = np.array([_doing(posterior, test) for test in tests])
    now, warm = (done[-1], any(map(runs, done))) if done else (None, None)
    setups = setups_of(posterior.columns.beliefs.trade)
    split = _split_named(lik, rows, posterior=posterior, tests=tests)
    problem = Problem(
        p=p / p.sum(),
        repair_cost=cost,
        cures=cures,
        test_cost=doing,
        lik=split,
        setup=np.hstack([np.zeros((1, len(mends))), setups.between([now], tests, [warm])]),
        goes_to=np.full(len(mends) + len(tests), STAYS),
        fallback=_fallback(cost, cures),
    )
    return Layout(problem, rows, mends, tuple(tests), lik, doing, setups, now, warm)


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


def _doing(posterior: Posterior, test: Test) -> float:
    """Minutes of the doing; the shop's own times weigh against the listed set-up and doing together."""
    seen = posterior.tally.minutes.get(test.id, Sum())
    listed = test.setup_min + test.do_min
    whole = (PRIOR_TIMES * listed + seen.total) / (PRIOR_TIMES + seen.weight)
    return max(1.0, whole - test.setup_min)


def _likelihoods(
    posterior: Posterior, rows: Sequence[CauseChance], *, tests: Sequence[Test], comes_and_goes: bool
) -> Floats:
    columns, width = posterior.columns, max((len(test.outcomes) for test in tests), default=1)
    picked = [columns.at[row.cause] for row in rows]
    chances = posterior.by_column()
    chances[picked] = 0.0
    chances /= chances.sum()
    tables = columns.tables([test.id for test in tests], posterior.tally)[:, :width]
    found = np.concatenate([tables[..., picked], (tables @ chances)[..., None]], axis=-1)
    if comes_and_goes:
        share = PRESENT_WHEN_COMES_AND_GOES
        found = share * found + (1.0 - share) * tables[..., -1:]
    return np.asarray(found)


def _split_named(
    lik: Floats, rows: Sequence[CauseChance], *, posterior: Posterior, tests: Sequence[Test]
) -> Floats:
    """Outcomes that show the very part become one outcome per part the test can show."""
    beliefs = posterior.columns.beliefs
    listed = [column for column, row in enumerate(rows) if row.cause in beliefs.cause_at]
    at = [beliefs.cause_at[rows[column].cause] for column in listed]
    named = beliefs.named[np.ix_([beliefs.test_at[test.id] for test in tests], at)]
    tables = [
        _split(table, np.array(listed)[shown], [outcome.names_part for outcome in test.outcomes])
        for table, shown, test in zip(lik, named, tests, strict=True)
    ]
    width = max((len(table) for table in tables), default=1)
    split = np.zeros((len(tests), width, lik.shape[2]))
    for index, table in enumerate(tables):
        split[index, : len(table)] = table
    return split


def _split(table: Floats, named: Ints, names_part: Sequence[bool]) -> Floats:
    """The outcomes of one test, its table (O, C), those that name a part split by the columns `named`."""
    if not named.size or not any(names_part):
        return table[: len(names_part)]
    parts = []
    for row, shows in zip(table, names_part, strict=False):
        rest = row.copy()
        if shows:
            only = np.zeros((len(named), len(row)))
            only[np.arange(len(named)), named] = row[named]
            rest[named] = 0.0
            parts.append(only)
        parts.append(rest[None])
    return np.concatenate(parts)
