"""The causes by falling chance."""

from __future__ import annotations

from bisect import bisect

import numpy as np

from baylore_kb.causes.beliefs import Beliefs, Floats
from baylore_kb.causes.columns import Columns
from baylore_kb.once_each import once_each


def by_falling_chance(chances: Floats, columns: Columns) -> list[int]:
    """The columns of the causes known here, the highest of the chances (N) first, ties by id."""
    order: list[int] = np.lexsort((_in_order(columns), -chances[:-1])).tolist()
    return order


def _in_order(columns: Columns) -> Floats:
    """(N - 1) numbers that rise as the ids do: whole ones for listed causes, the shop's own between them."""
    ids, places = _listed(columns.beliefs)
    own = columns.ids[len(ids) :]
    if not own:
        return places
    between = {
        cause: bisect(ids, cause) - 1 + (n + 1) / (len(own) + 1) for n, cause in enumerate(sorted(own))
    }
    return np.append(places, [between[cause] for cause in own])


@once_each
def _listed(beliefs: Beliefs) -> tuple[list[str], Floats]:
    """The listed causes in the order of their ids, and the place of each column among them."""
    ids = sorted(beliefs.causes)
    at = {cause: place for place, cause in enumerate(ids)}
    return ids, np.array([at[cause] for cause in beliefs.causes], dtype=float)
