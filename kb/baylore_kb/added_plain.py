"""The adding up of `sparse` in numpy, for where no compiler is."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


def added(starts: Ints, rows: Ints, values: Floats, asked: tuple[Ints, Floats], *, size: int) -> Floats:
    """(size) the sum by document of weight asked times weight held.

    Term t stands in `rows[starts[t] : starts[t + 1]]` with `values`; `asked` are the numbers of terms and
    their weights, added in that order.
    """
    numbers, weights = asked
    first = starts[numbers]
    many = starts[numbers + 1] - first
    ends = many.cumsum()
    places = np.repeat(first - ends + many, many) + np.arange(many.sum())
    sums = np.bincount(rows[places], np.repeat(weights, many) * values[places], minlength=size)
    return np.asarray(sums, dtype=np.float64)
