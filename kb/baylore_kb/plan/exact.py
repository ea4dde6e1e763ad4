"""The exact plan of a small problem: all outcomes seen, repairs failed and places, worked backwards.

Costs are kept weighted by the chance of their state, so that Bayes needs no division:
V(S) = min(referring, min over repairs [c + V(not cured)], min over tests [c + sum of V(outcome)]).
Source: Heckerman, Breese & Rommelse 1995; Ottosen & Jensen 2010.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import product

import numpy as np

from baylore_kb.plan.problem import STAYS, Choice, Floats, Ints, Problem

Slices = tuple[slice, ...]
Where = tuple[slice | Ints, ...]


def states(problem: Problem) -> int:
    """How many states the exact plan has to work through; exact however large."""
    outcomes = math.prod(1 + width for width in _widths(problem))
    return outcomes * int(2**problem.repairs) * len(problem.setup)


def solve(problem: Problem) -> Choice:
    """The least expected minutes for each first action; exact, time grows with `states(problem)`."""
    table = _Table.lay_out(problem)
    for done in _subsets_largest_first(problem.tests):
        table.fill(done)
    return table.first_step()


def _widths(problem: Problem) -> list[int]:
    """How many outcomes each test has."""
    can = np.asarray(problem.lik.any(axis=2))
    widths: list[int] = (can.shape[1] - can[:, ::-1].argmax(axis=1)).tolist()
    return widths


def _subsets_largest_first(tests: int) -> Iterator[tuple[bool, ...]]:
    return iter(sorted(product((False, True), repeat=tests), key=sum, reverse=True))


@dataclass(frozen=True, slots=True)
class _Table:
    """Axes of `value`: place, one per test (0 not done, 1.. its outcome), failed repairs as bits."""

    problem: Problem
    mass: Floats
    value: Floats

    @staticmethod
    def lay_out(problem: Problem) -> _Table:
        weights = np.ones((1, len(problem.p))) * problem.p
        for lik, width in zip(problem.lik, _widths(problem), strict=True):
            rows = np.vstack([np.ones(len(problem.p)), lik[:width]])
            weights = weights[..., None, :] * rows
        weights = (weights[..., None, :] * _left_over(problem))[0]
        value = problem.referring(weights)
        return _Table(problem, weights.sum(axis=-1), np.stack([value] * len(problem.setup)))

    def fill(self, done: tuple[bool, ...]) -> None:
        """Settle all states in which exactly these tests are done; those with more are settled."""
        for test in (index for index, seen in enumerate(done) if not seen):
            for place in range(len(self.value)):
                self._lower(place, _at(done), self._test_cost(place, done, test))
        for repair, masks in _repairs_by_level(self.problem.repairs):
            for place in range(len(self.value)):
                where: Where = (*_at(done), masks)
                self._lower(place, where, self._repair_cost(place, where, repair))

    def _lower(self, place: int, where: Where, cost: Floats) -> None:
        self.value[place][where] = np.minimum(self.value[place][where], cost)

    def _test_cost(self, place: int, done: tuple[bool, ...], test: int) -> Floats:
        action = self.problem.repairs + test
        minutes = self.problem.test_cost[test] + self.problem.setup[place, action]
        seen = tuple(flag or index == test for index, flag in enumerate(done))
        after = self.value[self._goes(place, action)][_at(seen)].sum(axis=test, keepdims=True)
        return np.asarray(minutes * self.mass[_at(done)] + after)

    def _repair_cost(self, place: int, where: Where, repair: int) -> Floats:
        minutes = self.problem.repair_cost[repair] + self.problem.setup[place, repair]
        failed = (*where[:-1], np.asarray(where[-1]) | (1 << repair))
        return np.asarray(minutes * self.mass[where] + self.value[self._goes(place, repair)][failed])

    def _goes(self, place: int, action: int) -> int:
        goes = int(self.problem.goes_to[action])
        return place if goes == STAYS else goes

    def first_step(self) -> Choice:
        """The cost of each action from the start, where nothing is done yet."""
        now, nothing = self.problem.place, (False,) * self.problem.tests
        root = (0,) * self.problem.tests
        tests = [self._test_cost(now, nothing, test)[(*root, 0)] for test in range(self.problem.tests)]
        start: Where = (*_at(nothing), np.array([0]))
        repairs = [self._repair_cost(now, start, index)[(*root, 0)] for index in range(self.problem.repairs)]
        return Choice(np.array(tests), np.array(repairs), refer=float(self.problem.referring(self.problem.p)))


def _at(done: tuple[bool, ...]) -> Slices:
    return tuple(slice(1, None) if seen else slice(0, 1) for seen in done)


def _left_over(problem: Problem) -> Floats:
    """(2**A, C): chance that the cause outlives the failed repairs named by the bits."""
    masks = np.arange(2**problem.repairs)
    left = np.ones((len(masks), len(problem.p)))
    for repair in range(problem.repairs):
        left *= np.where((masks >> repair & 1)[:, None] == 1, 1.0 - problem.cures[repair], 1.0)
    return left


def _repairs_by_level(repairs: int) -> Iterator[tuple[int, Ints]]:
    """Each repair with the sets of failed repairs it can follow, the largest sets first."""
    masks = np.arange(2**repairs)
    failed = np.array([int(mask).bit_count() for mask in masks])
    for level in reversed(range(repairs)):
        for repair in range(repairs):
            chosen = masks[(failed == level) & (masks >> repair & 1 == 0)]
            if len(chosen):
                yield repair, chosen
