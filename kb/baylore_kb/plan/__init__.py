"""What to test next, or to replace, ask or refer, by expected minutes to a working car."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from baylore_kb.causes import Posterior
from baylore_kb.index import Snapshot
from baylore_kb.plan import exact
from baylore_kb.plan.ahead import look_ahead, one_test
from baylore_kb.plan.layout import Layout, lay_out, leading
from baylore_kb.plan.mends import Mend, mends
from baylore_kb.plan.offered import offered
from baylore_kb.plan.part_ways import part_ways
from baylore_kb.plan.problem import Choice, Floats, Ints
from baylore_kb.plan.shown import next_test
from baylore_kb.plan.steps import Weighed, next_step
from baylore_kb.plan.warnings import cautions_for
from baylore_kb.question import Question
from baylore_kb.tally import later_tests
from baylore_kb.trade.model import Test, Trade
from baylore_kb.values import NextTest, Step, Terms

__all__ = ["Plan", "plan"]

SHOWN = 8
LOOKED_AHEAD = 9
SMALL_STATES = 6000
SOME_USE_MIN = 0.5


@dataclass(frozen=True, slots=True)
class Plan:
    """Tests worth doing, the best first, the one next step, and cautions that apply to it."""

    tests: tuple[NextTest, ...]
    next: Step
    cautions: tuple[str, ...]


def plan(
    posterior: Posterior,
    question: Question,
    snapshot: Snapshot,
    *,
    terms: Terms,
) -> Plan:
    """The plan from here, in minutes and the shop's money.

    Without any offered test the plan is to ask, replace or refer. The snapshot tells which part source
    the shop's memory favours.
    """
    trade, complaint = posterior.columns.beliefs.trade, question.complaint
    tests = offered(question, posterior, trade)
    layout = lay_out(
        posterior,
        _mends(posterior, snapshot, trade, terms),
        tests=tests,
        now=_last_test(question, trade),
        comes_and_goes=complaint.comes_and_goes,
    )
    worth = _worth(layout, allowed=[test.skill <= complaint.skill for test in tests])
    rows = {
        k: next_test(layout, k, saves=float(worth.saves[k]), skill=complaint.skill, trade=trade)
        for k in range(len(tests))
        if worth.saves[k] >= SOME_USE_MIN or k in worth.open
    }
    step = next_step(
        Weighed(
            question=question,
            posterior=posterior,
            layout=layout,
            choice=worth.choice,
            open=tuple(rows[k] for k in worth.open),
            closed=tuple(row for row in rows.values() if not row.allowed),
            trade=trade,
            terms=terms,
        )
    )
    return Plan(_best_first(list(rows.values()), step), step, cautions_for(step, question, trade))


def _mends(posterior: Posterior, snapshot: Snapshot, trade: Trade, terms: Terms) -> tuple[Mend, ...]:
    rows = leading(posterior)
    known = (trade.causes.get(row.cause) for row in rows)
    components = dict.fromkeys(cause.component for cause in known if cause)
    ways = part_ways(snapshot, components, terms=terms, trade=trade)
    return mends(rows, posterior, trade=trade, terms=terms, ways=ways)


@dataclass(frozen=True, slots=True)
class _Worth:
    """`saves` (T) of every offered test; `choice` is over repairs and the tests at `open`."""

    saves: Floats
    choice: Choice
    open: Ints


def _worth(layout: Layout, *, allowed: Sequence[bool]) -> _Worth:
    """One step for every test, two for the promising ones; exact where the rest is small."""
    problem = layout.problem
    alone = one_test(problem)
    can = np.flatnonzero(allowed)
    by_cost = can[np.argsort(alone.cost[can], kind="stable")]
    by_bits = can[np.argsort(-(alone.bits(problem) / problem.test_cost)[can], kind="stable")]
    ranked = dict.fromkeys([*by_cost[: LOOKED_AHEAD - 3].tolist(), *by_bits[:3].tolist()])
    chosen = np.array(list(ranked), dtype=np.intp)
    near = layout.near(chosen)
    outlook = look_ahead(near)
    saves = outlook.stop - alone.cost
    saves[chosen] = outlook.saves
    choice = exact.solve(near) if exact.states(near) <= SMALL_STATES else outlook.choice
    return _Worth(saves, choice, chosen)


def _last_test(question: Question, trade: Trade) -> Test | None:
    """The listed test done last: the car still stands as it left it."""
    done = [test.test for test in later_tests(question.complaint.tests) if test.test in trade.tests]
    return trade.tests[done[-1]] if done else None


def _best_first(rows: list[NextTest], step: Step) -> tuple[NextTest, ...]:
    useful = [row for row in rows if row.saves >= SOME_USE_MIN or row.test == step.test]
    ranked = sorted(useful, key=lambda row: (row.test != step.test, not row.allowed, -row.saves, row.test))
    # A proof that safety asks for may cost more than it saves; it never shows as less than nothing.
    return tuple(replace(row, saves=max(row.saves, 0.0)) for row in ranked[:SHOWN])
