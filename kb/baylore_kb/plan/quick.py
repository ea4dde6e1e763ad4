"""The cost of the best repairs, compiled; importing it needs numba. `orders.repair_only` says what it is."""

from __future__ import annotations

import numpy as np

from baylore_kb.plan.problem import Floats
from baylore_kb.plan.quick_ground import Ground, Mending, at_cost, inner_steps, steps

MOST_TRIED = 12
# Bounds this near to one another are taken for equal, so that rounding never cuts the best away.
SLACK = 1.0 + 1e-9


@inner_steps
def over_floor(chances, most, repairs, work):
    """Minutes of the repairs in the order of chance over minutes, up to the cheapest prefix, then giving
    away, as far as they are more than the floors of the causes; chances that sum to less than 1 cost that
    share of it."""
    whose, rate, minutes, fallback, floor = repairs
    cured, spared, ratio, gain = work
    for a in range(len(minutes)):
        cured[a] = 0.0
        spared[a] = 0.0
    reached = 0.0
    away = 0.0
    floors = 0.0
    never = 0.0
    for c in range(len(chances)):
        reached += chances[c]
        away += chances[c] * fallback[c]
        floors += chances[c] * floor[c]
        share = chances[c] * rate[c]
        never += chances[c] - share
        if whose[c] >= 0:
            cured[whose[c]] += share
            spared[whose[c]] += share * fallback[c]
    gains = 0.0
    for a in range(len(minutes)):
        ratio[a] = cured[a] / minutes[a]
        # a repair is paid at least by those it cures and those that no repair does
        gain[a] = max(0.0, spared[a] - minutes[a] * (cured[a] + never))
        gains += gain[a]
    if away - gains - floors > most:
        return away - gains - floors
    spent = 0.0
    least = away
    for _ in range(min(MOST_TRIED, len(minutes))):
        if spent + away - gains >= least:
            break
        best = 0
        for a in range(1, len(minutes)):
            if ratio[a] > ratio[best]:
                best = a
        spent += minutes[best] * reached
        reached -= cured[best]
        away -= spared[best]
        gains -= gain[best]
        ratio[best] = -1.0
        least = min(least, spent + away)
    return least - floors


@steps
def of_row(chances, repairs, work):
    """Minutes of the repairs alone; 0 for a row of no chances."""
    return at_cost(chances, repairs.floor) + over_floor(chances, np.inf, repairs, work)


@steps
def seen_of(row, likely, after):
    """Write the causes together with an outcome; its chance."""
    seen = 0.0
    for c in range(len(row)):
        after[c] = row[c] * likely[c]
        seen += after[c]
    return seen


@inner_steps
def one_test(row, begin, most, on):
    """Minutes of a test and the repairs after it, `begin` being the test and the minutes it starts from;
    infinite where it comes to more than `most`."""
    t, start = begin
    most *= SLACK
    cost = start + at_cost(row, on.tests.least[t])
    for o in range(on.tests.doubtful[t]):
        if cost > most:
            return np.inf
        seen_of(row, on.tests.lik[t, on.tests.order[t, o]], on.rows[0])
        cost += over_floor(on.rows[0], most - cost, on.repairs, on.work)
    return cost if cost <= most else np.inf


@steps
def _in_order(chances, repairs, work, cost):
    for n in range(len(chances)):
        cost[n] = of_row(chances[n], repairs, work)


@steps
def _alone(p, on, cost, doubt):
    tests, after = on.tests, on.rows[0]
    for t in range(len(cost)):
        cost[t] = at_cost(p, tests.least[t])
        doubt[t] = 0.0
        for o in range(tests.doubtful[t]):
            seen = seen_of(p, tests.lik[t, tests.order[t, o]], after)
            cost[t] += over_floor(after, np.inf, on.repairs, on.work)
            for c in range(len(p)):
                if after[c] > 0.0:
                    doubt[t] -= after[c] * np.log2(after[c] / seen)


def in_order(chances: Floats, repairs: Mending) -> Floats:
    """(N,) minutes of the repairs in the order of chance over minutes, up to the cheapest prefix of at most
    `MOST_TRIED`, then the fallback (finite for every cause); no repair shares a cause with another.

    Rows that sum to less than 1 cost that share of it.
    """
    cost = np.empty(len(chances))
    _in_order(np.ascontiguousarray(chances), repairs, np.empty((4, len(repairs.minutes))), cost)
    return cost


def alone(p: Floats, on: Ground) -> tuple[Floats, Floats]:
    """(T) minutes of what follows each test by `in_order`, and (T) bits of doubt left after it."""
    cost, doubt = np.empty(len(on.cost)), np.empty(len(on.cost))
    _alone(np.ascontiguousarray(p), on, cost, doubt)
    return cost, doubt
