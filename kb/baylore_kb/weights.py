"""The weights that turn what two cases share into a chance of the same cause."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from baylore_kb.features import NAMES
from baylore_kb.vehicle.nearness import LEVELS, OTHER

LEAST, MOST = 0.001, 0.99


@dataclass(frozen=True, slots=True)
class MatchWeights:
    """A logistic model: a bias and one weight of 0 or more for each of `features.NAMES`.

    `version` tells shipped and fitted ones apart; `cases` is how many closed cases a fit rests on.
    """

    bias: float
    weights: tuple[float, ...]
    version: str
    cases: int = 0

    def chances(self, rows: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        """Chance of the same cause for each row of `features.Compared`, kept inside [0.001, 0.99]."""
        score = self.bias + rows @ np.asarray(self.weights)
        return np.asarray(np.clip(1.0 / (1.0 + np.exp(-score)), LEAST, MOST), dtype=np.float64)


# L2 logistic regression of `fit.pairs` with weights of 0 or more, on the demo shop and three simulated towns
# (45,000 pairs), drawn towards weights that rank words alone best on public and made-up sets alike
# (`tests/quality`): a fit on pairs alone would ask for less spelling, which ranks worse.
_CAR = 1.6
_SHIPPED = {
    "words": 0.0,
    "cosine": 1.5,
    "chars": 1.2,
    "symptoms": 2.0,
    "symptoms_apart": 0.65,
    "codes": 4.4,
    "codes_apart": 0.9,
    **{f"car_{step}": _CAR * level for step, level in LEVELS.items()},
    "readings": 2.9,
    "readings_apart": 0.8,
    "tests": 1.1,
    "tests_apart": 1.3,
    "system": 3.2,
    "part": 1.5,
}
SHIPPED = MatchWeights(-5.92 + _CAR * OTHER, tuple(_SHIPPED[name] for name in NAMES), "shipped-6")
