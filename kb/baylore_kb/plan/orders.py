"""Plans without tests: the order of repairs or inspections, when to stop, and what a set-up changes.

Chances in [0, 1] of one fault, costs in one currency of minutes. Sources: Kadane & Simon 1977;
Heckerman, Breese & Rommelse 1995 (inspecting); Jensen et al. 2001 (fallback); Ottosen & Jensen 2010
(set-ups); Howard 1966 (when to stop).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from baylore_kb.plan.compiled import in_order
from baylore_kb.plan.problem import Floats, Ints, Problem

# Larger matrix products go to several threads, which on a busy machine wait for one another far longer
# than the product takes.
SMALL_PRODUCT = 200_000
# Nobody tries more repairs in a row before giving a job away; without giving away all are tried.
MOST_TRIED = 12


@dataclass(frozen=True, slots=True)
class Order:
    """Actions in order and the expected minutes of going through them until the car works."""

    actions: tuple[int, ...]
    cost: float


def by_ratio(p: Floats, cost: Floats) -> Order:
    """The best order of one sure repair per cause: p/c falling. No repairs cost nothing."""
    order = np.argsort(-p / cost, kind="stable")
    reached = 1.0 - np.concatenate([[0.0], np.cumsum(p[order])[:-1]])[: len(order)]
    return Order(tuple(map(int, order)), float(cost[order] @ reached))


def with_fallback(p: Floats, cost: Floats, *, success: Floats, fallback: float) -> Order:
    """The best repairs to try before a fallback that always works; perhaps none of them.

    Every prefix of the p*r/c order is weighed: stopping at the first poor one can stop too early.
    """
    order = np.argsort(-p * success / cost, kind="stable")
    left = 1.0 - np.concatenate([[0.0], np.cumsum((p * success)[order])])
    prefixes = np.concatenate([[0.0], np.cumsum(cost[order] * left[:-1])]) + left * fallback
    best = int(prefixes.argmin())
    return Order(tuple(map(int, order[:best])), float(prefixes[best]))


def inspecting(p: Floats, look_cost: Floats, *, repair_cost: Floats) -> Order:
    """The best order of looking at each part and repairing it if bad: p / look cost falling."""
    order = by_ratio(p, look_cost)
    return Order(order.actions, order.cost + float(p @ repair_cost))


def in_blocks(p: Floats, cost: Floats, *, place: Sequence[int], opening: Floats, open_now: int = -1) -> Order:
    """The best order when places must be opened: `place` -1 needs none, `opening` is paid on entering.

    The most efficient block (the best prefix of a closed place, or one open action) is done, again and
    again; exact when success shows while the place is open.
    """
    left, order, total, reached = set(range(len(p))), [], 0.0, 1.0
    while left:
        block = max(_blocks(p, cost, left=left, place=place, opening=opening, open_now=open_now))
        actions = block[2]
        if place[actions[0]] >= 0:
            total += 0.0 if place[actions[0]] == open_now else reached * float(opening[place[actions[0]]])
            open_now = place[actions[0]]
        for action in actions:
            total, reached = total + reached * float(cost[action]), reached - float(p[action])
        order += actions
        left -= set(actions)
    return Order(tuple(order), total)


_Block = tuple[float, int, list[int]]


def _blocks(
    p: Floats, cost: Floats, *, left: set[int], place: Sequence[int], opening: Floats, open_now: int
) -> list[_Block]:
    """(efficiency, -first action, actions) of every block that could be done next."""
    found: list[_Block] = []
    for where in {place[action] for action in left}:
        inside = sorted((a for a in left if place[a] == where), key=lambda a: -p[a] / cost[a])
        closed = where not in (-1, open_now)
        for size in range(1, len(inside) + 1) if closed else (1,):
            spent = float(cost[inside[:size]].sum()) + (float(opening[where]) if closed else 0.0)
            found.append((float(p[inside[:size]].sum()) / spent, -inside[0], inside[:size]))
    return found


def before_check(p: Floats, cost: Floats, *, check_cost: float) -> tuple[tuple[tuple[int, ...], ...], float]:
    """Repairs in p/c order, grouped before a costly check of the cure; the blocks and their cost."""
    order = by_ratio(p, cost).actions
    left = 1.0 - np.concatenate([[0.0], np.cumsum(p[list(order)])])
    best: list[tuple[float, tuple[tuple[int, ...], ...]]] = [(0.0, ())]
    for end in range(1, len(order) + 1):
        ways = []
        for start in range(end):
            block = order[start:end]
            spent = left[start] * (float(cost[list(block)].sum()) + check_cost)
            ways.append((best[start][0] + spent, (*best[start][1], block)))
        best.append(min(ways))
    return best[-1][1], float(best[-1][0])


@dataclass(frozen=True, slots=True)
class StopLine:
    """Two causes A and B: the chance of A above which A, below which B, is replaced without a perfect test.

    `most_worth` is the most that knowing the cause can save, in minutes; a test dearer than it never pays.
    """

    replace_a_above: float
    replace_b_below: float
    most_worth: float


def stop_line(p_a: float, *, cost_a: float, cost_b: float, test_cost: float) -> StopLine:
    """Where testing stops paying between two causes, by the costs of their repairs and of a perfect test."""
    worth = min((1.0 - p_a) * cost_a, p_a * cost_b)
    return StopLine(1.0 - test_cost / cost_a, test_cost / cost_b, worth)


def repair_only(chances: Floats, problem: Problem, *, places: Sequence[int] | None = None) -> Floats:
    """(N,) expected minutes from each row of causes' chances (N, C) when nothing more is tested.

    Repairs in p*r/c order up to the cheapest prefix, of at most 12 where there is a fallback, then it.
    `places` (N) is where the car is; it matters only where repairs have set-ups. The cost is of a real plan,
    so never too low.
    """
    repairs = problem.repairs
    if repairs and problem.setup[:, :repairs].any():
        return _rows_in_blocks(chances, problem, [problem.place] * len(chances) if places is None else places)
    if (problem.cures.sum(axis=0) > 1.0 + 1e-9).any():
        return _overlapping(chances, problem)
    found = in_order(chances, problem)
    return _in_order(chances, problem) if found is None else found


def _in_order(chances: Floats, problem: Problem) -> Floats:
    """No repair shares a cause with another or has a set-up."""
    repairs, finite = problem.repairs, np.isfinite(problem.fallback)
    away = chances * np.where(finite, problem.fallback, 0.0)
    cured, spared = _by_repair(chances, problem), _by_repair(away, problem)
    order = _first_repairs(cured / problem.repair_cost, most=repairs if not finite.all() else MOST_TRIED)
    left = _falling(chances.sum(axis=1), np.take_along_axis(cured, order, axis=1))
    work = np.cumsum(problem.repair_cost[order] * left[:, :-1], axis=1)
    cost = np.hstack([np.zeros((len(chances), 1)), work])
    cost += _falling(away.sum(axis=1), np.take_along_axis(spared, order, axis=1))
    if not finite.all():
        stuck = _by_repair(chances * ~finite, problem)
        lost = _falling(chances[:, ~finite].sum(axis=1), np.take_along_axis(stuck, order, axis=1))
        cost[lost > 1e-9] = np.inf
    return np.asarray(cost.min(axis=1))


def _first_repairs(ratios: Floats, *, most: int) -> Ints:
    """(N, A or fewer): places of each row's repairs, the best ratio first."""
    if ratios.shape[1] <= most:
        return np.argsort(-ratios, axis=1, kind="stable")
    best = np.argpartition(-ratios, most - 1, axis=1)[:, :most]
    order = np.argsort(-np.take_along_axis(ratios, best, axis=1), axis=1, kind="stable")
    return np.take_along_axis(best, order, axis=1)


def _by_repair(weights: Floats, problem: Problem) -> Floats:
    """(N, A): what of each row's weights (N, C) each repair cures."""
    at_once = max(1, SMALL_PRODUCT // max(1, problem.cures.size))
    parts = [weights[k : k + at_once] @ problem.cures.T for k in range(0, len(weights), at_once)]
    return np.vstack(parts) if parts else np.zeros((0, problem.repairs))


def _falling(start: Floats, steps: Floats) -> Floats:
    """(N, A + 1): what is left of `start` (N) after each of the steps (N, A)."""
    return np.asarray(np.hstack([start[:, None], start[:, None] - np.cumsum(steps, axis=1)]))


def _overlapping(chances: Floats, problem: Problem) -> Floats:
    """Repairs that share causes, the best ratio of what is still left chosen again and again."""
    finite = np.isfinite(problem.fallback)
    gone, left = np.where(finite, problem.fallback, 0.0), chances.copy()
    rows, spent = np.arange(len(chances)), np.zeros(len(chances))
    best = np.where(left[:, ~finite].sum(axis=1) > 1e-9, np.inf, left @ gone)
    tried = np.zeros((len(chances), problem.repairs), dtype=bool)
    for _ in range(problem.repairs):
        ratio = np.where(tried, -1.0, left @ problem.cures.T / problem.repair_cost)
        chosen = ratio.argmax(axis=1)
        spent += problem.repair_cost[chosen] * left.sum(axis=1)
        left *= 1.0 - problem.cures[chosen]
        tried[rows, chosen] = True
        best = np.minimum(best, np.where(left[:, ~finite].sum(axis=1) > 1e-9, np.inf, spent + left @ gone))
    return np.asarray(best)


def _rows_in_blocks(chances: Floats, problem: Problem, places: Sequence[int]) -> Floats:
    """The block order row by row, each repair curing its own cause; a fallback caps it."""
    repairs = problem.repairs
    where = [int(goes) if goes > 0 else -1 for goes in problem.goes_to[:repairs]]
    opening = problem.setup[0, :repairs]
    by_place = np.array(
        [max(opening[[w == k for w in where]], default=0.0) for k in range(len(problem.setup))]
    )
    masses = chances @ problem.cures.T
    costs = [
        in_blocks(row, problem.repair_cost, place=where, opening=by_place, open_now=now or -1).cost
        for row, now in zip(masses, places, strict=True)
    ]
    return np.asarray(np.minimum(costs, problem.referring(chances)))
