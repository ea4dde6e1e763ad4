"""Small random problems whose best plan is known: what each way of choosing costs beyond it.

Of the kind the planner's checks hold: 4 to 6 causes with a repair each, 3 or 4 noisy tests, a third with a
set-up that some acts share. Source of the scheme: Heckerman, Breese & Rommelse 1995; the optimum is
exhaustive search.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from baylore_kb.plan import exact
from baylore_kb.plan.ahead import one_test
from baylore_kb.plan.choose import weigh
from baylore_kb.plan.orders import repair_only
from baylore_kb.plan.problem import STAYS, Floats, Problem, problem

COSTS = np.array([20.0, 30.0, 45.0, 60.0, 90.0, 120.0, 180.0, 240.0])
MINUTES = np.array([3.0, 5.0, 8.0, 10.0, 15.0, 20.0])
SEEN = np.array([0.02, 0.05, 0.1, 0.3, 0.5, 0.7, 0.9, 0.95, 0.98])
GAIN_SURE = 0.9

First = Callable[[Problem], tuple[str, int]]


@dataclass(frozen=True, slots=True)
class Regret:
    """Mean and worst cost beyond the best plan, as a share of it."""

    mean: float
    worst: float


def regrets(seed: int, count: int) -> Mapping[str, Regret]:
    """The regret of each way of choosing the next act over so many problems; one seed, one answer."""
    chance = np.random.default_rng([seed, 3])
    problems = [random_problem(chance) for _ in range(count)]
    best = [exact.solve(each).best for each in problems]
    ways: Mapping[str, First] = {
        "as planned": lambda now: weigh(now).first,
        "as planned, nothing solved exactly": lambda now: weigh(now, small=0).first,
        "most bits a minute": _by_gain,
        "repairs only": _repairs_only,
    }
    return {name: _regret(problems, best, way) for name, way in ways.items()}


def random_problem(chance: np.random.Generator) -> Problem:
    """A problem of the kind above."""
    causes, tests = int(chance.integers(4, 7)), int(chance.integers(3, 5))
    hits = chance.choice(SEEN, size=(tests, causes))
    made = problem(
        chance.dirichlet(np.ones(causes)),
        chance.choice(COSTS, size=causes),
        tests=[(float(chance.choice(MINUTES)), np.stack([row, 1.0 - row], axis=1)) for row in hits],
    )
    return _with_setup(made, chance) if chance.random() < 1 / 3 else made


def _with_setup(made: Problem, chance: np.random.Generator) -> Problem:
    """Some acts need the car raised: minutes to be paid once while it stays there."""
    raised = chance.random(made.repairs + made.tests) < 0.6
    minutes = float(chance.choice([8.0, 12.0, 15.0]))
    setup = np.array([np.where(raised, minutes, 0.0), np.zeros(len(raised))])
    return replace(made, setup=setup, goes_to=np.where(raised, 1, STAYS))


def _regret(problems: list[Problem], best: list[float], way: First) -> Regret:
    beyond = [_cost(each, way) / least - 1.0 for each, least in zip(problems, best, strict=True)]
    return Regret(float(np.mean(beyond)), float(np.max(beyond)))


def _cost(now: Problem, way: First) -> float:
    """Expected minutes of doing as the way says to the end, over every outcome."""
    kind, index = way(now)
    if kind == "refer":
        return float(now.referring(now.p))
    if kind == "repair":
        left = 1.0 - float(now.cures[index] @ now.p)
        spent = float(now.repair_cost[index] + now.move(index)[0])
        return spent + (left * _cost(now.after_failed(index), way) if left > 1e-9 else 0.0)
    seen: Floats = now.lik[index] @ now.p
    after = sum(seen[o] * _cost(now.after_outcome(index, int(o)), way) for o in np.flatnonzero(seen > 1e-12))
    return float(now.test_cost[index] + now.move(now.repairs + index)[0] + after)


def _by_gain(now: Problem) -> tuple[str, int]:
    gains = one_test(now).bits(now) / now.test_cost if now.tests else np.zeros(0)
    if now.p.max() >= GAIN_SURE or not (gains > 1e-9).any():
        return _repairs_only(now)
    return "test", int(gains.argmax())


def _repairs_only(now: Problem) -> tuple[str, int]:
    """The first repair of the cheapest order, set-ups paid."""
    follow = [
        repair_only(now.after_failed(k).p[None], now.after_failed(k))[0] if now.repairs > 1 else 0.0
        for k in range(now.repairs)
    ]
    left = 1.0 - now.cures @ now.p
    cost = now.repair_cost + now.setup[now.place, : now.repairs] + left * np.array(follow)
    return "repair", int(cost.argmin())


def lines(found: Mapping[str, Regret]) -> Iterator[str]:
    """The table in plain lines."""
    yield "small problems, cost beyond the best plan:"
    for name, row in found.items():
        yield f"  {name:36} mean {row.mean:6.2%}  worst {row.worst:6.1%}"
