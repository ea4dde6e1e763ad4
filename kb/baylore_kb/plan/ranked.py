"""Which tests are listed and in what order: the next one, those worth doing, those somebody else could do."""

from __future__ import annotations

from dataclasses import replace

from baylore_kb.plan.referring import WORTH_A_CERTIFICATE_MIN
from baylore_kb.plan.weighed import Weighed
from baylore_kb.values import NextTest, Step

SHOWN, SHOWN_BARRED = 8, 2
SOME_USE_MIN = 0.5


def best_first(weighed: Weighed, step: Step) -> tuple[NextTest, ...]:
    """The step's test, then the others by what they save; barred ones last, only if they save much.

    What was skipped stands after what others could do.
    """
    able = sorted(
        (place for place in weighed.open if _useful(weighed, place, step)),
        key=lambda place: (weighed.layout.tests[place].id != step.test, -weighed.saves(place), place),
    )
    barred = sorted(
        (place for place in weighed.bars if weighed.saves(place) >= WORTH_A_CERTIFICATE_MIN),
        key=lambda place: (weighed.bars[place].said, -weighed.saves(place), place),
    )
    last = barred[: max(SHOWN_BARRED, SHOWN - len(able))]
    return tuple(_shown(weighed, place) for place in [*able[: SHOWN - len(last)], *last])


def _useful(weighed: Weighed, place: int, step: Step) -> bool:
    return weighed.saves(place) >= SOME_USE_MIN or weighed.layout.tests[place].id == step.test


def _shown(weighed: Weighed, place: int) -> NextTest:
    """The row; a proof that safety asks for may cost more than it saves, and never shows as less than 0."""
    row = weighed.row(place)
    return replace(row, saves=max(row.saves, 0.0))
