"""How much is not yet known of something with several chances, in bits."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def entropy(chances: Floats, *, axis: int = -1) -> Floats:
    """Sum of -p log2 p over an axis of chances, 0 where one is sure; a chance of 0 adds nothing."""
    safe = np.where(chances > 0, chances, 1.0)
    return np.asarray(-(chances * np.log2(safe)).sum(axis=axis))
