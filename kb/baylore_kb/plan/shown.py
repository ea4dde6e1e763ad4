"""The proposed tests as a member reads them: what they cost, save, tell apart and warn of."""

from __future__ import annotations

import numpy as np

from baylore_kb.plan.layout import Layout
from baylore_kb.plan.places import setup_words
from baylore_kb.plan.problem import Floats
from baylore_kb.plan.warnings import caution_ids
from baylore_kb.trade.model import Trade
from baylore_kb.values import NextTest, OutcomeChance

TELLS_APART = 4


def next_test(layout: Layout, place: int, *, saves: float, skill: int, trade: Trade) -> NextTest:
    """The test at `place` of the layout, for a member of the given skill."""
    test, problem = layout.tests[place], layout.problem
    return NextTest(
        test=test.id,
        title=test.title,
        minutes=round(float(layout.doing[place]) + problem.move(problem.repairs + place)[0], 1),
        saves=round(saves, 1),
        setup=setup_words(test),
        tells_apart=_tells_apart(layout, place),
        cautions=tuple(trade.cautions[caution].title for caution in caution_ids(test, trade)),
        outcomes=_outcomes(layout, place),
        skill=test.skill,
        allowed=test.skill <= skill,
    )


def _then(layout: Layout, place: int) -> tuple[Floats, Floats]:
    """(O) chance of each of the test's own outcomes, (O, C) the causes after it."""
    table = layout.lik[place, : len(layout.tests[place].outcomes)]
    joint = table * layout.problem.p
    seen = joint.sum(axis=1)
    return seen, joint / np.maximum(seen, 1e-300)[:, None]


def _outcomes(layout: Layout, place: int) -> tuple[OutcomeChance, ...]:
    seen, then = _then(layout, place)
    firsts = then[:, :-1].argmax(axis=1)
    return tuple(
        OutcomeChance(
            outcome=outcome.id,
            means=outcome.means,
            probability=round(float(chance), 4),
            then_cause=layout.rows[int(first)].cause,
            names_part=outcome.names_part,
        )
        for outcome, chance, first in zip(layout.tests[place].outcomes, seen, firsts, strict=True)
    )


def _tells_apart(layout: Layout, place: int) -> tuple[str, ...]:
    """Titles of the likely causes whose chance the test moves most, at least by a third."""
    seen, then = _then(layout, place)
    now = layout.problem.p[:-1]
    moved = (seen[:, None] * np.abs(then[:, :-1] - now)).sum(axis=0)
    ranked = np.argsort(-moved, kind="stable")[:TELLS_APART]
    return tuple(layout.rows[int(k)].title for k in ranked if moved[k] >= 0.15 * now[k] and now[k] >= 0.01)
