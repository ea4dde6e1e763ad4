"""The proposed tests as a member reads them: what they cost, save, tell apart and warn of."""

from __future__ import annotations

import numpy as np

from baylore_kb.plan.bars import Bar
from baylore_kb.plan.layout import Layout
from baylore_kb.plan.places import setup_words
from baylore_kb.plan.problem import Floats
from baylore_kb.plan.warnings import caution_ids
from baylore_kb.plan.wording import minutes, tells_apart
from baylore_kb.trade.model import Test, Trade
from baylore_kb.values import NextTest, OutcomeChance, Then

TELLS_APART, THEN = 4, 3


def next_test(layout: Layout, place: int, *, saves: float, bar: Bar | None, trade: Trade) -> NextTest:
    """The test at `place` of the layout, with what keeps the asking member from it.

    A proof that safety asks for may cost more than it saves, and never shows as less than 0.
    """
    test, seen, then = layout.tests[place], *_then(layout, place)
    takes, saved = float(layout.minutes[place]), max(saves, 0.0)
    apart = _tells_apart(layout, seen, then)
    return NextTest(
        test=test.id,
        title=test.title,
        minutes=round(takes, 1),
        saves=round(saved, 1),
        setup=setup_words(test),
        tells_apart=apart,
        cautions=tuple(trade.cautions[caution].title for caution in caution_ids(test, trade)),
        outcomes=_outcomes(layout, test, seen, then),
        skill=test.skill,
        allowed=bar is None,
        note=bar.note if bar else "",
        why=f"{tells_apart(apart)} {minutes(takes)}, saves about {minutes(saved)}.",
    )


def _then(layout: Layout, place: int) -> tuple[Floats, Floats]:
    """(O) chance of each of the test's own outcomes, (O, C) the causes after it."""
    joint = layout.lik[place, : len(layout.tests[place].outcomes)] * layout.problem.p
    seen = joint.sum(axis=1)
    return seen, joint / np.maximum(seen, 1e-300)[:, None]


def _outcomes(layout: Layout, test: Test, seen: Floats, then: Floats) -> tuple[OutcomeChance, ...]:
    """Each outcome with the first causes once it is seen; the rest, unlisted with it, is nobody's."""
    ranked = np.argsort(-then[:, :-1], axis=1, kind="stable")[:, :THEN].tolist()
    return tuple(
        OutcomeChance(
            outcome=outcome.id,
            means=outcome.means,
            probability=round(chance, 4),
            then_cause=layout.rows[first[0]].cause,
            names_part=outcome.names_part,
            then=tuple(
                Then(row.cause, row.title, round(after[k], 4))
                for k, row in ((k, layout.rows[k]) for k in first)
            ),
        )
        for outcome, chance, first, after in zip(
            test.outcomes, seen.tolist(), ranked, then.tolist(), strict=True
        )
    )


def _tells_apart(layout: Layout, seen: Floats, then: Floats) -> tuple[str, ...]:
    """Titles of the likely causes whose chance the test moves most, at least by a third."""
    now = layout.problem.p[:-1]
    moved = seen @ np.abs(then[:, :-1] - now)
    ranked = np.argsort(-moved, kind="stable")[:TELLS_APART]
    return tuple(layout.rows[int(k)].title for k in ranked if moved[k] >= 0.15 * now[k] and now[k] >= 0.01)
