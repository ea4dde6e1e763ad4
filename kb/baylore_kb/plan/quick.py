"""The cost of the best repairs, compiled; importing it needs numba. `orders.repair_only` says what it is."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit

from baylore_kb.plan.problem import Floats, Ints, Problem

MOST_TRIED = 12
# Bounds this near to one another are taken for equal, so that rounding never cuts the best away.
SLACK = 1.0 + 1e-9
_NEVER, _SEVERAL = -2, -1


class Mending(NamedTuple):
    """Whose repair cures each cause (C, -1 nobody's) and how surely (C), minutes of the repairs (A) and of
    giving away (C), and the least minutes a cause can cost once known (C)."""

    whose: Ints
    rate: Floats
    minutes: Floats
    fallback: Floats
    floor: Floats


class Testing(NamedTuple):
    """Minutes (T), chances (T, O, C), set-ups (K, A + T) and places (A + T) of the tests, the place of the
    first test among the acts; `sole` (T, O): the one cause an outcome can have, else _SEVERAL or _NEVER;
    `floors` (T, C): the least minutes of a cause times the chance of any outcome."""

    minutes: Floats
    lik: Floats
    setup: Floats
    goes: Ints
    first: int
    sole: Ints
    floors: Floats


class Ground(NamedTuple):
    """Tests and repairs of a problem, and room for working in: (C), (C), (4, A)."""

    tests: Testing
    repairs: Mending
    row: Floats
    after: Floats
    work: Floats


def ground(problem: Problem) -> Ground:
    """A problem made ready for compiled steps."""
    repairs = mending(problem)
    room = np.empty(len(problem.p)), np.empty(len(problem.p)), np.empty((4, problem.repairs))
    return Ground(testing(problem, repairs), repairs, *room)


def mending(problem: Problem) -> Mending:
    """What the compiled steps need of the repairs; each cause may be cured by one of them."""
    cures = problem.cures
    mended, rate = cures.any(axis=0), cures.max(axis=0)
    whose = np.where(mended, cures.argmax(axis=0), -1)
    minutes, fallback = map(np.ascontiguousarray, (problem.repair_cost, problem.fallback))
    floor = np.where(mended, np.minimum(fallback, minutes[whose]), fallback)
    return Mending(whose, rate, minutes, fallback, floor)


def testing(problem: Problem, repairs: Mending) -> Testing:
    """What the compiled steps need of the tests."""
    lik = np.ascontiguousarray(problem.lik)
    can = lik > 0.0
    count = can.sum(axis=2)
    sole = np.where(count == 1, can.argmax(axis=2), np.where(count == 0, _NEVER, _SEVERAL))
    minutes, setup = map(np.ascontiguousarray, (problem.test_cost, problem.setup))
    floors = lik.sum(axis=1) * repairs.floor
    return Testing(minutes, lik, setup, problem.goes_to, problem.repairs, sole, floors)


@njit(cache=True, nogil=True, error_model="numpy")
def of_row(chances, repairs, work):
    """Minutes of the repairs in the order of chance over minutes, up to the cheapest prefix, then giving
    away; chances that sum to less than 1 cost that share of it."""
    whose, rate, minutes, fallback, floor = repairs
    cured, spared, ratio, settled = work
    cured[:] = 0.0
    spared[:] = 0.0
    settled[:] = 0.0
    reached = 0.0
    away = 0.0
    rest = 0.0
    for c in range(len(chances)):
        reached += chances[c]
        away += chances[c] * fallback[c]
        rest += chances[c] * floor[c]
        if whose[c] >= 0:
            share = chances[c] * rate[c]
            cured[whose[c]] += share
            spared[whose[c]] += share * fallback[c]
            settled[whose[c]] += share * floor[c]
    for a in range(len(minutes)):
        ratio[a] = cured[a] / minutes[a]
    spent = 0.0
    least = away
    for _ in range(min(MOST_TRIED, len(minutes))):
        best = 0
        for a in range(1, len(minutes)):
            if ratio[a] > ratio[best]:
                best = a
        if ratio[best] <= 0.0 or spent + rest > least * SLACK:
            break
        spent += minutes[best] * reached
        reached -= cured[best]
        away -= spared[best]
        rest -= settled[best]
        ratio[best] = -1.0
        least = min(least, spent + away)
    return least


@njit(cache=True, nogil=True, error_model="numpy")
def of_one(chance, c, repairs):
    """`of_row` where one cause alone has a chance."""
    whose, rate, minutes, fallback, _ = repairs
    away = chance * fallback[c]
    if whose[c] < 0 or chance * rate[c] <= 0.0:
        return away
    return min(away, minutes[whose[c]] * chance + (away - chance * rate[c] * fallback[c]))


@njit(cache=True, nogil=True, error_model="numpy")
def seen_of(row, likely, after):
    """Write the causes together with an outcome; its chance."""
    seen = 0.0
    for c in range(len(row)):
        after[c] = row[c] * likely[c]
        seen += after[c]
    return seen


@njit(cache=True, nogil=True, error_model="numpy")
def floor_of(row, floors):
    """Minutes below which nothing can come, by the floors of the causes."""
    least = 0.0
    for c in range(len(row)):
        least += row[c] * floors[c]
    return least


@njit(cache=True, nogil=True, error_model="numpy")
def one_test(row, begin, most, on):
    """Minutes of a test and the repairs after it, `begin` being the test and the minutes it starts from;
    infinite where it comes to more than `most`."""
    t, start = begin
    floors, sole, lik = on.tests.floors[t], on.tests.sole[t], on.tests.lik[t]
    rest = floor_of(row, floors)
    follow = 0.0
    for o in range(len(sole)):
        if start + follow + rest > most * SLACK:
            return np.inf
        if sole[o] >= 0:
            chance = row[sole[o]] * lik[o, sole[o]]
            follow += of_one(chance, sole[o], on.repairs)
            rest -= chance * on.repairs.floor[sole[o]]
        elif sole[o] == _SEVERAL and seen_of(row, lik[o], on.after) > 0.0:
            follow += of_row(on.after, on.repairs, on.work)
            rest -= floor_of(on.after, on.repairs.floor)
    return start + follow


@njit(cache=True, nogil=True, error_model="numpy")
def _in_order(chances, repairs):
    cost = np.empty(len(chances))
    work = np.empty((4, len(repairs.minutes)))
    for n in range(len(chances)):
        cost[n] = of_row(chances[n], repairs, work)
    return cost


@njit(cache=True, nogil=True, error_model="numpy")
def _alone(p, on):
    tests = on.tests
    cost = np.zeros(len(tests.lik))
    left = np.zeros(len(tests.lik))
    for t in range(len(tests.lik)):
        sole, lik = tests.sole[t], tests.lik[t]
        for o in range(len(sole)):
            if sole[o] >= 0:
                cost[t] += of_one(p[sole[o]] * lik[o, sole[o]], sole[o], on.repairs)
            if sole[o] != _SEVERAL:
                continue
            seen = seen_of(p, lik[o], on.after)
            cost[t] += of_row(on.after, on.repairs, on.work)
            for c in range(len(p)):
                if on.after[c] > 0.0:
                    left[t] -= on.after[c] * np.log2(on.after[c] / seen)
    return cost, left


def in_order(chances: Floats, repairs: Mending) -> Floats:
    """(N,) minutes of the repairs in the order of chance over minutes, up to the cheapest prefix of at most
    `MOST_TRIED`, then the fallback (finite for every cause); no repair shares a cause with another.

    Rows that sum to less than 1 cost that share of it.
    """
    found: Floats = _in_order(np.ascontiguousarray(chances), repairs)
    return found


def alone(p: Floats, on: Ground) -> tuple[Floats, Floats]:
    """(T) minutes of what follows each test by `in_order`, and (T) bits of doubt left after it."""
    found: tuple[Floats, Floats] = _alone(np.ascontiguousarray(p), on)
    return found
