"""Outcomes that show the very part, as the planner counts them: one for each part the test can show."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from baylore_kb.causes import Beliefs
from baylore_kb.causes.beliefs import Bools
from baylore_kb.once_each import once_each
from baylore_kb.plan.problem import Floats, Ints
from baylore_kb.values import CauseChance


def split_by_part(lik: Floats, tests: Ints, rows: Sequence[CauseChance], beliefs: Beliefs) -> Floats:
    """(T, more, C) of the outcomes' chances (T, O, C) of the tests at these places of the lists.

    An outcome that names a part is split by the causes (rows) that its test tells apart: first one row for
    each of them, then the rest. The last column, any other cause, is no part; nor is one that no list knows.
    """
    listed = [column for column, row in enumerate(rows) if row.cause in beliefs.cause_at]
    named = np.zeros((len(tests), lik.shape[2]), dtype=bool)
    causes = np.array([beliefs.cause_at[rows[column].cause] for column in listed], dtype=np.intp)
    named[:, listed] = beliefs.named[tests[:, None], causes]
    shows, parts = _naming(beliefs)[tests], named.sum(axis=1)
    rest = np.arange(lik.shape[1]) + shows.cumsum(axis=1) * parts[:, None]
    found = np.zeros((len(tests), int(rest.max(initial=0)) + 1, lik.shape[2]))
    found[np.arange(len(tests))[:, None], rest] = lik
    test, outcome, part = np.nonzero(shows[:, :, None] & named[:, None, :])
    places = rest[test, outcome]
    found[test, places, part] = 0.0
    found[test, places - parts[test] + named.cumsum(axis=1)[test, part] - 1, part] = lik[test, outcome, part]
    return found


@once_each
def _naming(beliefs: Beliefs) -> Bools:
    """(T, O) which outcomes of each listed test name a part."""
    found = np.zeros(beliefs.lik.shape[:2], dtype=bool)
    for place, test in enumerate(beliefs.trade.tests.values()):
        found[place, : len(test.outcomes)] = [outcome.names_part for outcome in test.outcomes]
    return found
