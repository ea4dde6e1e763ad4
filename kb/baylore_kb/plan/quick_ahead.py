"""Looking ahead over tests, compiled; importing it needs numba. `ahead` says what it is."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from baylore_kb.plan.problem import Floats
from baylore_kb.plan.quick import of_row, one_test, seen_of
from baylore_kb.plan.quick_ground import Ground, at_cost, steps

_SURE = 1.0 - 1e-9


class Ahead(NamedTuple):
    """Minutes of each test first (T), of it alone (T), of the best act if it did not exist (T), and of each
    repair first (A); in `more` (T + 1, T + A) what each act costs more if a test did not exist."""

    by_test: Floats
    alone: Floats
    without: Floats
    by_repair: Floats
    more: Floats


class Here(NamedTuple):
    """The place of the car, and the test that is spent (-1: none)."""

    place: int
    test: int


@steps
def mass_of(row):
    """The sum of a row's chances, and whether one cause has all of it."""
    mass = 0.0
    most = 0.0
    for c in range(len(row)):
        mass += row[c]
        most = max(most, row[c])
    return mass, most >= _SURE * mass


@steps
def start_of(t, place, on):
    """Minutes of a test from a place, whatever it shows."""
    return on.tests.minutes[t] + on.tests.setup[place, len(on.repairs.minutes) + t]


@steps
def place_after(act, place, on):
    """Where the car is after an act, the repairs first and then the tests."""
    return place if on.tests.goes[act] < 0 else on.tests.goes[act]


@steps
def write_failed(p, a, on, row):
    """Write the causes together with a repair that did not cure."""
    for c in range(len(p)):
        row[c] = p[c] * (1.0 - on.repairs.rate[c]) if on.repairs.whose[c] == a else p[c]


@steps
def _stop_or_go_on(row, here, on):
    """Minutes times the row's sum: of stopping, of the best of that and one more test, and of the best
    without that test; and which test that is (-1: none)."""
    stop = of_row(row, on.repairs, on.work)
    mass, sure = mass_of(row)
    least = stop
    without = stop
    which = -1
    for t in range(0 if sure else len(on.cost)):
        if t == here.test:
            continue
        cost = one_test(row, (t, mass * start_of(t, here.place, on)), without, on)
        if cost < least:
            without = least
            least = cost
            which = t
        elif cost < without:
            without = cost
    return stop, least, without, which


@steps
def _acts_ahead(p, place, on, found):
    tests, repairs, row = len(on.cost), on.repairs, on.rows[1]
    for t in range(tests):
        then = Here(place_after(len(repairs.minutes) + t, place, on), t)
        found.alone[t] = start_of(t, place, on) + at_cost(p, on.tests.least[t])
        found.by_test[t] = found.alone[t]
        for o in range(on.tests.doubtful[t]):
            seen_of(p, on.tests.lik[t, on.tests.order[t, o]], row)
            floor = at_cost(row, repairs.floor)
            stop, least, without, which = _stop_or_go_on(row, then, on)
            found.alone[t] += stop - floor
            found.by_test[t] += least - floor
            found.more[which, t] += without - least
    for a in range(len(repairs.minutes)):
        write_failed(p, a, on, row)
        _, least, without, which = _stop_or_go_on(row, Here(place_after(a, place, on), -1), on)
        found.by_repair[a] = repairs.minutes[a] + on.tests.setup[place, a] + least
        found.more[which, tests + a] += without - least
    stop = of_row(p, repairs, on.work)
    for k in range(tests):
        found.without[k] = stop
        for t in range(tests):
            if t != k:
                found.without[k] = min(found.without[k], found.by_test[t] + found.more[k, t])
        for a in range(len(repairs.minutes)):
            found.without[k] = min(found.without[k], found.by_repair[a] + found.more[k, tests + a])
    return stop


@steps
def _cheapest_alone(p, place, most, on):
    least = np.inf
    for t in range(len(on.cost)):
        least = min(least, one_test(p, (t, start_of(t, place, on)), min(least, most), on))
    return least


def cheapest_test(p: Floats, place: int, most: float, on: Ground) -> float:
    """Minutes of the test that costs least with the best repairs after it; infinite from `most` on."""
    return float(_cheapest_alone(np.ascontiguousarray(p), place, most, on))


def look_ahead(p: Floats, place: int, on: Ground) -> tuple[float, Ahead]:
    """Minutes without any test, and those of each first act when one more test, or none, follows."""
    tests, repairs = len(on.cost), len(on.repairs.minutes)
    by_test, alone, without = np.empty((3, tests))
    # the last row is for "no test"
    more = np.zeros((tests + 1, tests + repairs))
    found = Ahead(by_test, alone, without, np.empty(repairs), more)
    return float(_acts_ahead(np.ascontiguousarray(p), place, on, found)), found
