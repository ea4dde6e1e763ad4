"""What the outcomes of all listed tests tell of the causes, kept where a test tells one cause from others."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.causes.beliefs import Beliefs, Floats
from baylore_kb.causes.columns import Columns, Ints, ToldApart, told_apart
from baylore_kb.once_each import once_each
from baylore_kb.tally import Tally


@dataclass(frozen=True, slots=True, eq=False)
class OutcomeTables:
    """T listed tests with up to O outcomes; zeros beyond a test's own outcomes.

    `other` (T, O): P(outcome | a cause that the test does not tell from others). Each of the E entries is a
    test and a listed cause that it does: `test` (E, never falling), `column` (E), `chances` (E, O);
    `first` (those with entries) is the first entry of each test. `own`: cause -> tests, and their chances.
    """

    other: Floats
    test: Ints
    column: Ints
    chances: Floats
    first: Ints
    own: Mapping[str, tuple[list[int], Floats]]

    def of_causes(self, tests: Ints, columns: Columns, picked: Ints) -> Floats:
        """(N, O, K) P(outcome | cause) of N tests, by their place in the lists, for the causes picked (K)."""
        row, place = np.full(len(self.other), -1), np.full(columns.count, -1)
        row[tests], place[picked] = np.arange(len(tests)), np.arange(len(picked))
        found = np.repeat(self.other[tests][:, :, None], len(picked), axis=2)
        rows, places = row[self.test], place[self.column]
        entries = np.flatnonzero((rows >= 0) & (places >= 0))
        found[rows[entries], :, places[entries]] = self.chances[entries]
        for column, (own, chances) in self._own(columns):
            if place[column] >= 0:
                wanted = row[own] >= 0
                found[row[own][wanted], :, place[column]] = chances[wanted]
        return found

    def of_any(self, tests: Ints, columns: Columns, chances: Floats) -> Floats:
        """(N, O) P(outcome) of N tests, by their place in the lists, where causes have these chances (...),
        which sum to 1."""
        weights = chances[self.column]
        held, told = np.zeros(len(self.other)), np.zeros(self.other.shape)
        known = self.test[self.first]
        held[known] = np.add.reduceat(weights, self.first)
        told[known] = np.add.reduceat(weights[:, None] * self.chances, self.first)
        for column, (own, rows) in self._own(columns):
            held[own] += chances[column]
            told[own] += chances[column] * rows
        return np.asarray((told + (1.0 - held)[:, None] * self.other)[tests])

    def _own(self, columns: Columns) -> list[tuple[int, tuple[list[int], Floats]]]:
        """The columns of the shop's own causes in question that were counted, with their counts."""
        own = columns.ids[len(columns.beliefs.causes) :]
        return [(columns.at[cause], self.own[cause]) for cause in own if cause in self.own]


def outcome_tables(beliefs: Beliefs, tally: Tally) -> OutcomeTables:
    """The tables of these lists and a shop's counts, laid out once for each."""
    return _of_lists(beliefs)(tally)


@once_each
def _of_lists(beliefs: Beliefs) -> Callable[[Tally], OutcomeTables]:
    return once_each(lambda tally: _laid_out(beliefs, tally))


def _laid_out(beliefs: Beliefs, tally: Tally) -> OutcomeTables:
    told = [told_apart(beliefs, test, tally) for test in beliefs.tests]
    sizes = np.array([len(each.columns) for each in told], dtype=np.intp)
    starts = np.cumsum(sizes) - sizes
    width = beliefs.lik.shape[1]
    return OutcomeTables(
        other=beliefs.lik[:, :, -1].copy(),
        test=np.repeat(np.arange(len(told)), sizes),
        column=np.concatenate([np.zeros(0, np.intp), *(each.columns for each in told)]),
        chances=np.concatenate([np.zeros((0, width)), *(each.listed.T for each in told)]),
        first=starts[sizes > 0],
        own=_by_cause(told),
    )


def _by_cause(told: list[ToldApart]) -> dict[str, tuple[list[int], Floats]]:
    """The shop's own causes, the tests they were counted in, and (n, O) the chances of the outcomes."""
    tests: dict[str, list[int]] = {}
    for place, each in enumerate(told):
        for cause in each.own:
            tests.setdefault(cause, []).append(place)
    return {cause: (at, np.array([told[k].own[cause] for k in at])) for cause, at in tests.items()}
