"""Minutes that the tests take here: as listed, drawn towards what the shop wrote down."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np

from baylore_kb.causes import Beliefs
from baylore_kb.once_each import once_each
from baylore_kb.plan.problem import Floats
from baylore_kb.tally import NO_SUM, Tally
from baylore_kb.trade.model import Test

# Recorded minutes that outweigh a test's listed ones by themselves.
PRIOR_TIMES = 3.0


def doing_minutes(beliefs: Beliefs, tally: Tally) -> Floats:
    """(T) minutes of each listed test without its set-up, reckoned once for the shop's counts."""
    return _of_lists(beliefs)(tally)


@once_each
def _of_lists(beliefs: Beliefs) -> Callable[[Tally], Floats]:
    tests = [beliefs.trade.tests[test] for test in beliefs.tests]
    return once_each(lambda tally: np.array([_doing(test, tally) for test in tests]))


def _doing(test: Test, tally: Tally) -> float:
    """Minutes of the doing; the shop's own times weigh against the listed set-up and doing together."""
    seen = tally.minutes.get(test.id, NO_SUM)
    listed = test.setup_min + test.do_min
    whole = (PRIOR_TIMES * listed + seen.total) / (PRIOR_TIMES + seen.weight)
    return max(1.0, whole - test.setup_min)
