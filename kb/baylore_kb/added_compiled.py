"""What `added_plain` does, to the digit, compiled; importing it needs numba."""

from __future__ import annotations

import numpy as np
from numba import njit


@njit(cache=True, nogil=True)
def added(starts, rows, values, asked, *, size):
    """(size) the sum by document of weight asked times weight held."""
    scores = np.zeros(size)
    numbers, weights = asked
    for place in range(len(numbers)):
        first, end = starts[numbers[place]], starts[numbers[place] + 1]
        for at in range(first, end):
            scores[rows[at]] += weights[place] * values[at]
    return scores
