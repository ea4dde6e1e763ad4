"""The weights that turn what two cases share into a chance of the same cause."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from baylore_kb.features import NAMES, Features

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
        """Chance of the same cause for each row of `Features.row`, kept inside [0.001, 0.99]."""
        score = self.bias + rows @ np.asarray(self.weights)
        return np.asarray(np.clip(1.0 / (1.0 + np.exp(-score)), LEAST, MOST), dtype=np.float64)

    def chance(self, features: Features) -> float:
        """Chance of the same cause for one comparison."""
        return float(self.chances(np.asarray([features.row()]))[0])

    def by_name(self) -> dict[str, float]:
        """The weights with their names, for showing."""
        return dict(zip(NAMES, self.weights, strict=True))


_BY_HAND = {
    "words": 3.0,
    "cosine": 4.0,
    "chars": 1.0,
    "symptoms": 2.0,
    "symptoms_apart": 1.0,
    "codes": 2.5,
    "codes_apart": 0.5,
    "car": 1.5,
    "readings": 2.0,
    "readings_apart": 1.5,
    "tests": 2.5,
    "tests_apart": 2.0,
    "system": 1.0,
    "part": 1.0,
}
SHIPPED = MatchWeights(-5.0, tuple(_BY_HAND[name] for name in NAMES), "shipped-1")
