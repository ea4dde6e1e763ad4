"""Looking ahead over tests, compiled; importing it needs numba. `ahead` and `deeper` say what it is."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numba import njit

from baylore_kb.plan.problem import Floats, Ints, Problem
from baylore_kb.plan.quick import SLACK, Ground, floor_of, of_row, one_test, seen_of

_SURE, _SEEN_AT_LEAST = 1.0 - 1e-9, 1e-9


class NextTests(NamedTuple):
    """From each row of chances: the least minutes of one test more and then none (N, infinite where none
    comes below what stopping costs), that test (N), and the least without that test (N)."""

    least: Floats
    which: Ints
    without: Floats


class _Here(NamedTuple):
    """The place of the car, the test and the repair that are spent (-1: none)."""

    place: int
    test: int
    repair: int


@njit(cache=True, nogil=True, error_model="numpy")
def _next_tests(rows, places, stop, on):
    tests, width = on.tests, on.tests.lik.shape[1]
    least, without = np.full(len(rows), np.inf), np.full(len(rows), np.inf)
    which = np.full(len(rows), -1)
    for n in range(len(rows)):
        if rows[n].max() >= _SURE or rows[n].sum() <= 0.5:
            continue
        for t in range(len(tests.lik)):
            if n // width == t:
                continue
            start = tests.minutes[t] + tests.setup[places[n], tests.first + t]
            cost = one_test(rows[n], (t, start), min(without[n], stop[n]), on)
            if cost < least[n]:
                without[n] = least[n]
                least[n] = cost
                which[n] = t
            elif cost < without[n]:
                without[n] = cost
    return least, which, without


@njit(cache=True, nogil=True, error_model="numpy")
def _chosen(p, here, most, on):
    """At most so many tests, those that cost least by themselves, the cheapest first; not the one spent.

    All of them, in the order of their places, where they are no more.
    """
    tests, count = on.tests, len(on.tests.lik)
    cost = np.full(count, np.inf)
    for t in range(count):
        if t != here.test:
            start = tests.minutes[t] + tests.setup[here.place, tests.first + t]
            cost[t] = one_test(p, (t, start), np.inf, on)
    if count - (here.test >= 0) > most:
        return np.argsort(cost, kind="mergesort")[:most]
    every = np.arange(count)
    return every[every != here.test]


@njit(cache=True, nogil=True, error_model="numpy")
def _from_here(row, here, chosen, on):
    """Minutes times the row's sum of the best of one more test and none, from a place, one test done."""
    best = of_row(row, on.repairs, on.work)
    mass = row.sum()
    if row.max() >= _SURE * mass:
        return best
    for t in chosen:
        if t != here.test:
            start = mass * (on.tests.minutes[t] + on.tests.setup[here.place, on.tests.first + t])
            best = min(best, one_test(row, (t, start), best, on))
    return best


@njit(cache=True, nogil=True, error_model="numpy")
def _there(act, here, tests):
    return here.place if tests.goes[act] < 0 else tests.goes[act]


@njit(cache=True, nogil=True, error_model="numpy")
def _by_test(p, here, choice, on):
    """Minutes of a test and the best of one more test and none after it. `choice` is the test, all that are
    looked at, and the minutes from which on it does not matter: then infinite."""
    t, chosen, most = choice
    cost = on.tests.minutes[t] + on.tests.setup[here.place, on.tests.first + t]
    then = _Here(_there(on.tests.first + t, here, on.tests), t, -1)
    rest = floor_of(p, on.tests.floors[t])
    for o in range(on.tests.lik.shape[1]):
        if cost + rest > most * SLACK:
            return np.inf
        if seen_of(p, on.tests.lik[t, o], on.row) > 1e-12:
            rest -= floor_of(on.row, on.repairs.floor)
            cost += _from_here(on.row, then, chosen, on)
    return cost


@njit(cache=True, nogil=True, error_model="numpy")
def _by_repair(p, here, choice, on):
    """Minutes of a repair and of the best of one more test and none where it does not cure; as `_by_test`."""
    a, chosen, most = choice
    for c in range(len(p)):
        on.row[c] = p[c] * (1.0 - on.repairs.rate[c]) if on.repairs.whose[c] == a else p[c]
    cost = on.repairs.minutes[a] + on.tests.setup[here.place, a]
    if cost + floor_of(on.row, on.repairs.floor) > most * SLACK:
        return np.inf
    if on.row.sum() > 1e-12:
        cost += _from_here(on.row, _Here(_there(a, here, on.tests), -1, -1), chosen, on)
    return cost


@njit(cache=True, nogil=True, error_model="numpy")
def _least(p, here, most_tests, on):
    """Minutes of the best first act, one more test looked ahead over after it."""
    chosen = _chosen(p, here, most_tests, on)
    least = (p * on.repairs.fallback).sum()
    for t in chosen:
        least = min(least, _by_test(p, here, (t, chosen, least), on))
    for a in range(on.tests.first):
        if a != here.repair:
            least = min(least, _by_repair(p, here, (a, chosen, least), on))
    return least


@njit(cache=True, nogil=True, error_model="numpy")
def _test_deeper(p, act, limits, on):
    """`act` is the test and the place of the car, `limits` the most tests looked at and the most minutes."""
    t, place = act
    most_tests, most = limits
    cost = on.tests.minutes[t] + on.tests.setup[place, on.tests.first + t]
    then = _Here(_there(on.tests.first + t, _Here(place, -1, -1), on.tests), t, -1)
    row = np.empty(len(p))
    for o in range(on.tests.lik.shape[1]):
        seen = seen_of(p, on.tests.lik[t, o], row)
        if row.max() >= _SURE * seen:
            cost += of_row(row, on.repairs, on.work)
    for o in range(on.tests.lik.shape[1]):
        if cost >= most:
            return most
        seen = seen_of(p, on.tests.lik[t, o], row)
        if row.max() < _SURE * seen and seen > _SEEN_AT_LEAST:
            cost += seen * _least(row / seen, then, most_tests, on)
    return cost


def next_tests(rows: Floats, places: Ints, stop: Floats, on: Ground) -> NextTests:
    """One test more and then none, from each row of chances (N, C) and place (N).

    Rows are after the outcomes of the tests, O for each, in which that test is spent, then others. Tests
    that come to more than `stop` (N) need not be told apart.
    """
    return NextTests(*_next_tests(np.ascontiguousarray(rows), places, stop, on))


def least(p: Floats, place: int, most_tests: int, on: Ground) -> float:
    """Expected minutes of the best first act with one more test looked ahead after it, over at most
    `most_tests` tests, those that cost least by themselves: as `ahead.choice_ahead` has it.
    """
    return float(_least(np.ascontiguousarray(p), _Here(place, -1, -1), most_tests, on))


def deeper_after_test(problem: Problem, test: int, limits: tuple[int, float], on: Ground) -> float:
    """Expected minutes of a test with `least` after each outcome; `limits` are the most tests of `least` and
    the minutes from which on it does not matter, which then come back.
    """
    p = np.ascontiguousarray(problem.p)
    return float(_test_deeper(p, (test, problem.place), limits, on))
