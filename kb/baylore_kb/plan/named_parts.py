"""Outcomes that show the very part, as the planner counts them: one for each part the test can show."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence

import numpy as np

from baylore_kb.causes import Beliefs
from baylore_kb.once_each import once_each
from baylore_kb.plan.problem import Floats, Ints
from baylore_kb.trade.model import Test
from baylore_kb.values import CauseChance


def split_by_part(
    lik: Floats, tests: Sequence[Test], rows: Sequence[CauseChance], beliefs: Beliefs
) -> Floats:
    """(T, more, C) of the outcomes' chances (T, O, C), those that name a part split by the causes (rows).

    The last column, any other cause, is no part; nor is a cause that no list knows.
    """
    listed = [column for column, row in enumerate(rows) if row.cause in beliefs.cause_at]
    causes = [beliefs.cause_at[rows[column].cause] for column in listed]
    naming, splits = _naming(beliefs), {}
    for place, test in enumerate(tests):
        if test.id in naming:
            named = np.array(listed, dtype=np.intp)[beliefs.named[beliefs.test_at[test.id], causes]]
            splits[place] = _split(lik[place, : len(test.outcomes)], named, naming[test.id])
    width = max((len(table) for table in splits.values()), default=1)
    found = np.zeros((len(lik), max(width, lik.shape[1]), lik.shape[2]))
    found[:, : lik.shape[1]] = lik
    for place, table in splits.items():
        found[place, : len(table)] = table
    return found


@once_each
def _naming(beliefs: Beliefs) -> Mapping[str, frozenset[int]]:
    """The places of the outcomes that name a part, of each listed test that has any."""
    found = {
        test.id: frozenset(place for place, outcome in enumerate(test.outcomes) if outcome.names_part)
        for test in beliefs.trade.tests.values()
    }
    return {test: places for test, places in found.items() if places}


def _split(table: Floats, named: Ints, shows: Collection[int]) -> Floats:
    """The outcomes of one test, its table (O, C), those at `shows` split by the columns `named`."""
    split = np.zeros((len(table) + len(shows) * len(named), table.shape[1]))
    row = 0
    for place, chances in enumerate(table):
        rest = row
        if place in shows:
            rest += len(named)
            split[np.arange(row, rest), named] = chances[named]
        split[rest] = chances
        if place in shows:
            split[rest, named] = 0.0
        row = rest + 1
    return split
