"""Control how many alerts over many watched pairs are false, and how many cases raise one."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from baylore_kb.recurrence.intervals import upper_p

FALSE_SHARE = 0.1


def adjusted(chances: Sequence[float]) -> list[float]:
    """For each p-value the least share of false discoveries at which it is one, in the order given.

    Empty for none. Source: Benjamini & Hochberg 1995.
    """
    return [float(each) for each in adjusted_all(np.asarray(chances, dtype=float))]


def adjusted_all(p: np.ndarray) -> np.ndarray:
    """As `adjusted`, of and as an array of one dimension."""
    order = np.argsort(p, kind="stable")[::-1]
    ranks = len(p) - np.arange(len(p))
    falling = np.minimum.accumulate(p[order] * len(p) / ranks) if len(p) else p
    found = np.empty(len(p))
    found[order] = np.minimum(falling, 1.0)
    return found


def discoveries(chances: Sequence[float], *, false_share: float = FALSE_SHARE) -> list[bool]:
    """Which p-values are discoveries when at most `false_share` (0 to 1) of those may be false."""
    return [each <= false_share for each in adjusted(chances)]


def least_count(expected: float, chance: float) -> int:
    """The smallest count whose exact upper tail under `expected` (over 0) is at most `chance` (over 0)."""
    count = 1
    while upper_p(count, expected) > chance:
        count += 1
    return count
