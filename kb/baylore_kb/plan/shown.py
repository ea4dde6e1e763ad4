"""The proposed tests as a member reads them: what they cost, save, tell apart and warn of."""

from __future__ import annotations

import numpy as np

from baylore_kb.plan.bars import Bar
from baylore_kb.plan.layout import Layout
from baylore_kb.plan.places import setup_words
from baylore_kb.plan.problem import Floats
from baylore_kb.plan.warnings import caution_ids
from baylore_kb.plan.wording import minutes, tells_apart
from baylore_kb.trade.model import Trade
from baylore_kb.values import NextTest, OutcomeChance, Then

TELLS_APART, THEN = 4, 3


def next_test(layout: Layout, place: int, *, saves: float, bar: Bar | None, trade: Trade) -> NextTest:
    """The test at `place` of the layout, with what keeps the asking member from it."""
    test = layout.tests[place]
    takes, apart = minutes_now(layout, place), _tells_apart(layout, place)
    return NextTest(
        test=test.id,
        title=test.title,
        minutes=round(takes, 1),
        saves=round(saves, 1),
        setup=setup_words(test),
        tells_apart=apart,
        cautions=tuple(trade.cautions[caution].title for caution in caution_ids(test, trade)),
        outcomes=_outcomes(layout, place),
        skill=test.skill,
        allowed=bar is None,
        note=bar.note if bar else "",
        why=f"{tells_apart(apart)} {minutes(takes)}, saves about {minutes(max(saves, 0.0))}.",
    )


def minutes_now(layout: Layout, place: int) -> float:
    """Minutes of the test at `place` from where the car stands, set-up included."""
    problem = layout.problem
    return float(layout.doing[place]) + problem.move(problem.repairs + place)[0]


def _then(layout: Layout, place: int) -> tuple[Floats, Floats]:
    """(O) chance of each of the test's own outcomes, (O, C) the causes after it."""
    table = layout.lik[place, : len(layout.tests[place].outcomes)]
    joint = table * layout.problem.p
    seen = joint.sum(axis=1)
    return seen, joint / np.maximum(seen, 1e-300)[:, None]


def _outcomes(layout: Layout, place: int) -> tuple[OutcomeChance, ...]:
    seen, then = _then(layout, place)
    return tuple(
        OutcomeChance(
            outcome=outcome.id,
            means=outcome.means,
            probability=round(float(chance), 4),
            then_cause=layout.rows[int(after[:-1].argmax())].cause,
            names_part=outcome.names_part,
            then=_firsts(layout, after),
        )
        for outcome, chance, after in zip(layout.tests[place].outcomes, seen, then, strict=True)
    )


def _firsts(layout: Layout, after: Floats) -> tuple[Then, ...]:
    """The first causes once an outcome is seen; the rest, unlisted with it, is nobody's."""
    ranked = np.argsort(-after[:-1], kind="stable")[:THEN]
    rows = ((layout.rows[int(k)], round(float(after[k]), 4)) for k in ranked)
    return tuple(Then(row.cause, row.title, chance) for row, chance in rows)


def _tells_apart(layout: Layout, place: int) -> tuple[str, ...]:
    """Titles of the likely causes whose chance the test moves most, at least by a third."""
    seen, then = _then(layout, place)
    now = layout.problem.p[:-1]
    moved = (seen[:, None] * np.abs(then[:, :-1] - now)).sum(axis=0)
    ranked = np.argsort(-moved, kind="stable")[:TELLS_APART]
    return tuple(layout.rows[int(k)].title for k in ranked if moved[k] >= 0.15 * now[k] and now[k] >= 0.01)
