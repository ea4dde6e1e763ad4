"""Which tests are listed and in what order: the next one, those worth doing, those somebody else could do."""

from __future__ import annotations

from baylore_kb.plan.referring import WORTH_A_CERTIFICATE_MIN
from baylore_kb.plan.weighed import Weighed
from baylore_kb.values import NextTest, Step

SHOWN, SHOWN_BARRED = 8, 2
SOME_USE_MIN = 0.5


def best_first(weighed: Weighed, step: Step) -> tuple[NextTest, ...]:
    """The step's test, then the others by what they save; barred ones last, only if they save much.

    What was skipped stands after what others could do.
    """
    saves, tests = weighed.worth.saves.tolist(), weighed.layout.tests
    able = sorted(
        (place for place in weighed.open if saves[place] >= SOME_USE_MIN or tests[place].id == step.test),
        key=lambda place: (tests[place].id != step.test, -saves[place], place),
    )
    barred = sorted(
        (place for place in weighed.bars if saves[place] >= WORTH_A_CERTIFICATE_MIN),
        key=lambda place: (weighed.bars[place].said, -saves[place], place),
    )
    last = barred[: max(SHOWN_BARRED, SHOWN - len(able))]
    return tuple(weighed.row(place) for place in [*able[: SHOWN - len(last)], *last])
