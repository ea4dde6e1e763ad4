"""What to test next, or to replace, ask or refer, by expected minutes to a working car."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.causes import Posterior
from baylore_kb.causes.evidence import often_away
from baylore_kb.index import Snapshot
from baylore_kb.plan.bars import Bar, bars
from baylore_kb.plan.choose import weigh
from baylore_kb.plan.layout import Layout, lay_out, leading
from baylore_kb.plan.mends import Mend, mends
from baylore_kb.plan.offered import offered
from baylore_kb.plan.part_ways import part_ways
from baylore_kb.plan.ranked import best_first
from baylore_kb.plan.steps import next_step
from baylore_kb.plan.vain import in_vain
from baylore_kb.plan.warnings import cautions_for
from baylore_kb.plan.weighed import Weighed
from baylore_kb.question import Question
from baylore_kb.tally import later_tests
from baylore_kb.trade.model import Test, Trade
from baylore_kb.values import NextTest, Step, Terms

__all__ = ["Plan", "plan"]


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

    Without any offered test the plan is to ask, replace or refer. Tests that the member may not or the shop
    cannot do are never the next step; those only put off come back when nothing else is worth testing.
    The snapshot tells which part source the shop's memory favours.
    """
    trade, complaint = posterior.columns.beliefs.trade, question.complaint
    tests = offered(question, posterior, trade)
    layout = lay_out(
        posterior,
        _mends(posterior, question, snapshot, terms=terms),
        tests=tests,
        done=_tests_done(question, trade),
        comes_and_goes=often_away(complaint),
    )
    barred = bars(tests, complaint, terms)
    weighed = _weighed(question, posterior, layout, barred=barred, terms=terms)
    step = next_step(weighed)
    if step.do in ("replace", "refer") and any(each.lifted_here for each in barred.values()):
        again = {place: each for place, each in barred.items() if not each.lifted_here}
        weighed = _weighed(question, posterior, layout, barred=again, terms=terms)
        step = next_step(weighed)
    return Plan(best_first(weighed, step), step, cautions_for(step, question, trade))


def _weighed(
    question: Question, posterior: Posterior, layout: Layout, *, barred: Mapping[int, Bar], terms: Terms
) -> Weighed:
    can = np.array([k for k in range(len(layout.tests)) if k not in barred], dtype=np.intp)
    return Weighed(
        question=question,
        posterior=posterior,
        layout=layout,
        worth=weigh(layout.problem, near=layout.near, can=can),
        bars=barred,
        trade=posterior.columns.beliefs.trade,
        terms=terms,
    )


def _mends(posterior: Posterior, question: Question, snapshot: Snapshot, *, terms: Terms) -> tuple[Mend, ...]:
    trade = posterior.columns.beliefs.trade
    rows = [row for row in leading(posterior) if not in_vain(row.cause, question.complaint, trade)]
    known = (trade.causes.get(row.cause) for row in rows)
    components = dict.fromkeys(cause.component for cause in known if cause)
    ways = part_ways(snapshot, components, terms=terms)
    return mends(rows, posterior, trade=trade, terms=terms, ways=ways)


def _tests_done(question: Question, trade: Trade) -> list[Test]:
    """The listed tests done, in order: the car still stands as the last of them left it."""
    done = (trade.tests.get(test.test) for test in later_tests(question.complaint.tests))
    return [test for test in done if test is not None]
