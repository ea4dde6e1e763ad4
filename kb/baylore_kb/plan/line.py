"""Above which chance a repair is done without more testing: worked out, never a rule of thumb."""

from __future__ import annotations

from dataclasses import replace

from baylore_kb.plan.ahead import cheapest_test, look_ahead
from baylore_kb.plan.orders import repair_only
from baylore_kb.plan.problem import Problem

FINEST, HALVINGS = 0.995, 6


def replace_above(problem: Problem, repair: int, *, at_least: float = 0.0) -> float | None:
    """The chance in (0, 1) of cure above which the repair comes before every test; None if never.

    The other causes keep their chances to one another. Found one step ahead and then checked two steps
    ahead, so that the plan really replaces there. `at_least` is a floor from elsewhere (proof before parts).
    """
    low, high = max(float(problem.cures[repair] @ problem.p), at_least), FINEST
    if low >= high or not _one_step(_at(problem, repair, high), repair):
        return None
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        low, high = (low, middle) if _one_step(_at(problem, repair, middle), repair) else (middle, high)
    for line in (high, (high + FINEST) / 2.0, FINEST):
        if look_ahead(_at(problem, repair, line)).choice.first == ("repair", repair):
            return float(line)
    return None


def _at(problem: Problem, repair: int, chance: float) -> Problem:
    """The problem with the repair's chance of cure moved there."""
    cured = problem.p * problem.cures[repair]
    other = problem.p - cured
    if cured.sum() <= 0.0 or other.sum() <= 0.0:
        return problem
    return replace(problem, p=chance * cured / cured.sum() + (1.0 - chance) * other / other.sum())


def _one_step(problem: Problem, repair: int) -> bool:
    """Whether replacing first costs no more than any one test followed by repairs."""
    rest = problem.p * (1.0 - problem.cures[repair])
    cost = problem.repair_cost[repair] + problem.setup[problem.place, repair]
    cost += repair_only(rest[None, :], problem)[0]
    return bool(cost <= cheapest_test(problem, most=float(cost)) + 1e-9)
