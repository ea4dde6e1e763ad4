"""The cost of the best repairs, compiled; importing it needs numba. `orders.repair_only` says what it is."""

from __future__ import annotations

import numpy as np
from numba import njit

from baylore_kb.plan.problem import Floats, Problem

Repairs = tuple[Floats, Floats, Floats]
_SURE, _MOST_TRIED = 1.0 - 1e-9, 12


@njit(cache=True, nogil=True)
def _in_order(chances, repairs, most):
    known = _known(*repairs)
    cost = np.empty(len(chances))
    work = np.empty((3, len(repairs[1])))
    for n in range(len(chances)):
        cost[n] = _of_row(chances[n], known, most, work)
    return cost


@njit(cache=True, nogil=True)
def _of_row(chances, known, most, work):
    whose, rate, minutes, fallback = known
    cured, spared, ratio = work
    cured[:] = 0.0
    spared[:] = 0.0
    reached = 0.0
    away = 0.0
    for c in range(len(chances)):
        reached += chances[c]
        away += chances[c] * fallback[c]
        if whose[c] >= 0:
            share = chances[c] * rate[c]
            cured[whose[c]] += share
            spared[whose[c]] += share * fallback[c]
    for a in range(len(minutes)):
        ratio[a] = cured[a] / minutes[a]
    spent = 0.0
    least = away
    for _ in range(min(most, len(minutes))):
        best = 0
        for a in range(1, len(minutes)):
            if ratio[a] > ratio[best]:
                best = a
        if ratio[best] <= 0.0 or spent >= least:
            break
        spent += minutes[best] * reached
        reached -= cured[best]
        away -= spared[best]
        ratio[best] = -1.0
        least = min(least, spent + away)
    return least


@njit(cache=True, nogil=True)
def _known(cures, minutes, fallback):
    """Whose repair cures each cause and how surely, with the costs."""
    whose = np.full(cures.shape[1], -1)
    rate = np.zeros(cures.shape[1])
    for a in range(len(minutes)):
        for c in range(cures.shape[1]):
            if cures[a, c] > 0.0:
                whose[c] = a
                rate[c] = cures[a, c]
    return whose, rate, minutes, fallback


@njit(cache=True, nogil=True)
def _one_more(chances, lik, repairs, most):
    known = _known(*repairs)
    rows, tests = len(chances), len(lik)
    cost = np.zeros((rows, tests))
    after = np.empty(chances.shape[1])
    work = np.empty((3, len(repairs[1])))
    for n in range(rows):
        for t in range(tests):
            for o in range(lik.shape[1]):
                seen = 0.0
                for c in range(len(after)):
                    after[c] = chances[n, c] * lik[t, o, c]
                    seen += after[c]
                if seen > 0.0:
                    cost[n, t] += _of_row(after, known, most, work)
    return cost


@njit(cache=True, nogil=True)
def _alone(p, lik, repairs, most):
    known = _known(*repairs)
    cost = np.zeros(len(lik))
    left = np.zeros(len(lik))
    after = np.empty(len(p))
    work = np.empty((3, len(repairs[1])))
    for t in range(len(lik)):
        for o in range(lik.shape[1]):
            seen = 0.0
            for c in range(len(p)):
                after[c] = p[c] * lik[t, o, c]
                seen += after[c]
            if seen <= 0.0:
                continue
            cost[t] += _of_row(after, known, most, work)
            for c in range(len(p)):
                if after[c] > 0.0:
                    left[t] -= after[c] * np.log2(after[c] / seen)
    return cost, left


@njit(cache=True, nogil=True)
def _chosen(p, tests, known, most_tests):
    """The tests that cost least by themselves, in the order of their places."""
    minutes, lik, setup, _, place, first = tests
    after = np.empty(len(p))
    work = np.empty((3, len(known[2])))
    cost = np.empty(len(lik))
    for t in range(len(lik)):
        cost[t] = minutes[t] + setup[place, first + t]
        for o in range(lik.shape[1]):
            if _seen(p, lik[t, o], after) > 0.0:
                cost[t] += _of_row(after, known, _MOST_TRIED, work)
    if len(lik) <= most_tests:
        return np.arange(len(lik))
    return np.argsort(cost, kind="mergesort")[:most_tests]


@njit(cache=True, nogil=True)
def _seen(p, likely, after):
    """Write the causes together with an outcome; its chance."""
    seen = 0.0
    for c in range(len(p)):
        after[c] = p[c] * likely[c]
        seen += after[c]
    return seen


@njit(cache=True, nogil=True)
def _from_here(row, here, tests, known):
    """Minutes times the row's sum of the best of one more test and none, from a place, one test done."""
    place, done, chosen = here
    minutes, lik, setup, _, _, first = tests
    work = np.empty((3, len(known[2])))
    after = np.empty(len(row))
    best = _of_row(row, known, _MOST_TRIED, work)
    mass = row.sum()
    if row.max() >= _SURE * mass:
        return best
    for t in chosen:
        if t == done:
            continue
        cost = mass * (minutes[t] + setup[place, first + t])
        for o in range(lik.shape[1]):
            if cost >= best:
                break
            if _seen(row, lik[t, o], after) > 0.0:
                cost += _of_row(after, known, _MOST_TRIED, work)
        best = min(best, cost)
    return best


@njit(cache=True, nogil=True)
def _least(p, tests, repairs, most_tests):
    known = _known(*repairs)
    cures, repair_minutes, fallback = repairs
    minutes, lik, setup, goes, place, first = tests
    chosen = _chosen(p, tests, known, most_tests)
    row = np.empty(len(p))
    least = (p * fallback).sum()
    for t in chosen:
        cost = minutes[t] + setup[place, first + t]
        there = place if goes[first + t] < 0 else goes[first + t]
        for o in range(lik.shape[1]):
            if cost >= least:
                break
            if _seen(p, lik[t, o], row) > 1e-12:
                cost += _from_here(row, (there, t, chosen), tests, known)
        least = min(least, cost)
    for a in range(first):
        there = place if goes[a] < 0 else goes[a]
        for c in range(len(p)):
            row[c] = p[c] * (1.0 - cures[a, c])
        cost = repair_minutes[a] + setup[place, a]
        if row.sum() > 1e-12 and cost < least:
            cost += _from_here(row, (there, -1, chosen), tests, known)
        least = min(least, cost)
    return least


def in_order(chances: Floats, repairs: Repairs, most: int) -> Floats:
    """(N,) minutes of the repairs in the order of chance over minutes, up to the cheapest prefix of at most
    `most`, then the fallback (finite for every cause); no repair shares a cause with another.

    Rows that sum to less than 1 cost that share of it.
    """
    found: Floats = _in_order(np.ascontiguousarray(chances), repairs, most)
    return found


def one_more(chances: Floats, lik: Floats, repairs: Repairs, most: int) -> Floats:
    """(N, T) minutes of what follows each test (T, O, C) from each row of chances, by `in_order`."""
    found: Floats = _one_more(np.ascontiguousarray(chances), np.ascontiguousarray(lik), repairs, most)
    return found


def alone(p: Floats, lik: Floats, repairs: Repairs, most: int) -> tuple[Floats, Floats]:
    """(T) minutes of what follows each test by `in_order`, and (T) bits of doubt left after it."""
    found: tuple[Floats, Floats] = _alone(np.ascontiguousarray(p), np.ascontiguousarray(lik), repairs, most)
    return found


def least(problem: Problem, repairs: Repairs, most_tests: int) -> float:
    """Expected minutes of the best first act with one more test looked ahead after it, over at most
    `most_tests` tests, those that cost least by themselves: as `ahead.choice_ahead` has it.
    """
    places = (problem.setup, problem.goes_to, problem.place, problem.repairs)
    tests = (np.ascontiguousarray(problem.test_cost), np.ascontiguousarray(problem.lik), *places)
    return float(_least(np.ascontiguousarray(problem.p), tests, repairs, most_tests))


def repairs_of(problem: Problem) -> Repairs:
    """What the compiled steps need of the repairs: who cures what, minutes, and giving away."""
    cures, minutes, fallback = map(
        np.ascontiguousarray, (problem.cures, problem.repair_cost, problem.fallback)
    )
    return cures, minutes, fallback
