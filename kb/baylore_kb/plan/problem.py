"""What can be wrong, mended and tested, as arrays: the planner's plain numbers, all costs in minutes."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]

STAYS = -1


@dataclass(frozen=True, slots=True)
class Problem:
    """One fault, C causes, A repairs, T tests of up to O outcomes, K places the car can be in.

    `p` (C): chance of each cause, sums to 1. `repair_cost` (A): minutes, money included.
    `cures` (A, C): chance in [0, 1] that the repair cures the cause. `test_cost` (T): minutes without set-up.
    `lik` (T, O, C): P(outcome | cause), zeros beyond a test's own outcomes.
    `setup` (K, A + T): set-up minutes of each action (repairs, then tests) from each place.
    `goes_to` (A + T): the place the car is in afterwards, or STAYS. `place`: where the car is now.
    `fallback` (C): minutes of giving the job away, by the true cause; infinite where it cannot be.
    No repairs (A = 0) needs a finite fallback; no tests (T = 0) is ordinary.
    """

    p: Floats
    repair_cost: Floats
    cures: Floats
    test_cost: Floats
    lik: Floats
    setup: Floats
    goes_to: Ints
    fallback: Floats
    place: int = 0

    @property
    def repairs(self) -> int:
        """How many repairs are open."""
        return len(self.repair_cost)

    @property
    def tests(self) -> int:
        """How many tests are open."""
        return len(self.test_cost)

    def referring(self, chances: Floats) -> Floats:
        """Minutes of giving the job away, for chances (..., C); infinite where one left has no fallback."""
        finite = np.isfinite(self.fallback)
        cost = chances @ np.where(finite, self.fallback, 0.0)
        return np.where((chances[..., ~finite] > 1e-9).any(axis=-1), np.inf, cost)

    def move(self, action: int) -> tuple[float, int]:
        """Set-up minutes to pay for an action now, and the place the car is in after it."""
        goes = int(self.goes_to[action])
        return float(self.setup[self.place, action]), self.place if goes == STAYS else goes

    def after_outcome(self, test: int, outcome: int) -> Problem:
        """The problem once the test showed the outcome (its chance must be above 0); the test is spent."""
        p = self.p * self.lik[test, outcome]
        action = self.repairs + test
        return replace(
            self,
            p=p / p.sum(),
            test_cost=np.delete(self.test_cost, test),
            lik=np.delete(self.lik, test, axis=0),
            setup=np.delete(self.setup, action, axis=1),
            goes_to=np.delete(self.goes_to, action),
            place=self.move(action)[1],
        )

    def after_failed(self, repair: int) -> Problem:
        """The problem once the repair did not cure (which must be possible); the repair is spent."""
        p = self.p * (1.0 - self.cures[repair])
        return replace(
            self,
            p=p / p.sum(),
            repair_cost=np.delete(self.repair_cost, repair),
            cures=np.delete(self.cures, repair, axis=0),
            setup=np.delete(self.setup, repair, axis=1),
            goes_to=np.delete(self.goes_to, repair),
            place=self.move(repair)[1],
        )

    def keep_tests(self, chosen: Ints) -> Problem:
        """The same problem with only the chosen tests open."""
        actions = np.concatenate([np.arange(self.repairs), self.repairs + chosen])
        return replace(
            self,
            test_cost=self.test_cost[chosen],
            lik=self.lik[chosen],
            setup=self.setup[:, actions],
            goes_to=self.goes_to[actions],
        )


@dataclass(frozen=True, slots=True)
class Choice:
    """Expected minutes to a working car by what is done first; `best` is the least of all.

    `by_test` (T) and `by_repair` (A) hold the cost of starting so (infinite where it cannot be),
    `refer` of giving the job away now.
    """

    by_test: Floats
    by_repair: Floats
    refer: float

    @property
    def best(self) -> float:
        """Expected minutes when the best is done first."""
        acts: list[float] = [*self.by_test.tolist(), *self.by_repair.tolist()]
        return min([self.refer, *acts])

    @property
    def first(self) -> tuple[str, int]:
        """("test" | "repair", index) or ("refer", 0); a repair wins a tie, then a test."""
        found = self.best + 1e-9
        for kind, costs in (("repair", self.by_repair), ("test", self.by_test)):
            if len(costs) and costs.min() <= found:
                return kind, int(costs.argmin())
        return "refer", 0


def problem(
    p: Floats,
    repair_cost: Floats,
    *,
    cures: Floats | None = None,
    tests: list[tuple[float, Floats]] | None = None,
    fallback: float | Floats = np.inf,
) -> Problem:
    """A problem without places; `tests` are (minutes, P(outcome | cause) as (C, O)) pairs.

    `cures` defaults to one sure repair per cause.
    """
    tests = tests or []
    width = max((lik.shape[1] for _, lik in tests), default=1)
    lik = np.zeros((len(tests), width, len(p)))
    for index, (_, rows) in enumerate(tests):
        lik[index, : rows.shape[1]] = rows.T
    actions = len(repair_cost) + len(tests)
    return Problem(
        p=np.asarray(p, dtype=float),
        repair_cost=np.asarray(repair_cost, dtype=float),
        cures=np.eye(len(p)) if cures is None else cures,
        test_cost=np.array([cost for cost, _ in tests], dtype=float),
        lik=lik,
        setup=np.zeros((1, actions)),
        goes_to=np.full(actions, STAYS),
        fallback=np.broadcast_to(np.asarray(fallback, dtype=float), (len(p),)),
    )
