"""The least expected cost of each first act: exact where the rest is small, else looking ahead."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from baylore_kb.plan import exact
from baylore_kb.plan.ahead import OneTest, look_ahead, one_test
from baylore_kb.plan.deeper import deeper
from baylore_kb.plan.problem import Choice, Floats, Ints, Problem

# Tests looked ahead over: so many by their cost alone, so many more by what they tell in a minute.
BY_COST, BY_BITS = 12, 4
SMALL_STATES = 6000
# Within this share of the least cost the quicker test comes first: plans are no surer than that.
NEAR_TIE = 0.01


@dataclass(frozen=True, slots=True)
class Worth:
    """`saves` (T) minutes of every test; `choice` is over the repairs and the tests at `open`.

    `near` is the problem that the choice is about: only the tests at `open`, set-ups between them known.
    """

    saves: Floats
    choice: Choice
    open: Ints
    near: Problem

    @property
    def first(self) -> tuple[str, int]:
        """("test" | "repair", index) or ("refer", 0), tests by their place among all.

        The cheapest first act; of tests about as good that save their own minutes, the quickest.
        """
        kind, index = self.choice.first
        if kind != "test":
            return kind, index
        costs = self.choice.by_test
        close = np.flatnonzero(costs <= self.choice.best * (1.0 + NEAR_TIE))
        minutes = self.near.test_cost + self.near.setup[self.near.place, self.near.repairs :]
        saves = self.saves[self.open]
        paying = close[saves[close] >= minutes[close]]
        paying = paying if paying.size else np.array([index])
        quickest = paying[np.lexsort((-saves[paying], minutes[paying]))[0]]
        return kind, int(self.open[quickest])


def weigh(
    problem: Problem,
    *,
    near: Callable[[Ints], Problem] | None = None,
    can: Ints | None = None,
    small: int = SMALL_STATES,
) -> Worth:
    """One step for every test, more for the promising ones among those that `can` be done (None: all).

    `near` gives the problem with only the chosen tests (None: as `keep_tests` does). At most `small` states
    are solved exactly. No tests are ordinary: the choice is then between repairs and giving away.
    """
    can = np.arange(problem.tests) if can is None else can
    alone = one_test(problem)
    chosen = _promising(alone, problem, can)
    close = (near or problem.keep_tests)(chosen)
    outlook = look_ahead(close)
    saves = outlook.stop - alone.cost
    saves[chosen] = outlook.saves
    small_enough = exact.states(close) <= small
    choice = exact.solve(close) if small_enough else deeper(close, outlook.choice)
    return Worth(saves, choice, chosen, close)


def _promising(alone: OneTest, problem: Problem, can: Ints) -> Ints:
    by_cost = can[np.argsort(alone.cost[can], kind="stable")]
    by_bits = can[np.argsort(-(alone.bits(problem) / problem.test_cost)[can], kind="stable")]
    chosen = dict.fromkeys([*by_cost[:BY_COST].tolist(), *by_bits[:BY_BITS].tolist()])
    return np.array(list(chosen), dtype=np.intp)
