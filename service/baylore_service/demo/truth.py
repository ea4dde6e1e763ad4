"""How the demo's world really behaves: near the trade lists, but not the same."""

from __future__ import annotations

import math
from collections.abc import Mapping
from random import Random

from baylore_kb.trade.model import Cause, LikelihoodRow, Test, Trade

PLACES = (1.0, 0.6, 0.4, 0.3, 0.2)
SPREAD = 0.4
TELLING = 2.0


class Truth:
    """Chances the shop never sees, drawn once per seed around those of the trade lists."""

    def __init__(self, trade: Trade, seed: int) -> None:
        self._trade = trade
        self._seed = seed
        self._rows: dict[tuple[str, str], Mapping[str, float]] = {}
        chance = Random(f"{seed}:weights")
        self._weights = {
            id: each.weight * chance.gammavariate(4.0, 0.25) for id, each in trade.causes.items()
        }

    def weight(self, cause: str) -> float:
        """How common a cause is here, relative within its system."""
        return self._weights[cause]

    def row(self, test: Test, cause: str) -> Mapping[str, float]:
        """The true chance of each outcome of the test under a cause; one nobody listed is anything else."""
        key = (test.id, cause)
        if key not in self._rows:
            self._rows[key] = self._bent(row_of(test, cause), Random(f"{self._seed}:{test.id}:{cause}"))
        return self._rows[key]

    def _bent(self, row: LikelihoodRow, chance: Random) -> Mapping[str, float]:
        raw = {outcome: p * math.exp(chance.gauss(0.0, SPREAD)) for outcome, p in row.p.items()}
        whole = sum(raw.values())
        return {outcome: p / whole for outcome, p in raw.items()}

    def outcome(self, test: Test, cause: str, chance: Random) -> str:
        """What the test shows this time."""
        row = self.row(test, cause)
        return chance.choices(list(row), weights=list(row.values()))[0]

    def symptom(self, cause: Cause, chance: Random) -> str:
        """A symptom the cause shows this time."""
        weights = [PLACES[min(place, 4)] for place in range(len(cause.symptoms))]
        return chance.choices(cause.symptoms, weights=weights)[0]


def row_of(test: Test, cause: str) -> LikelihoodRow:
    """The listed row a cause stands in, else that of anything else."""
    return next((row for row in test.likelihood if cause in row.causes), rest_of(test))


def rest_of(test: Test) -> LikelihoodRow:
    """The listed row of anything else."""
    return next(row for row in test.likelihood if not row.causes)


def normal(test: Test) -> str:
    """The outcome a sound car shows most often."""
    p = rest_of(test).p
    return max(p, key=lambda outcome: p[outcome])


def tells(test: Test, outcome: str, cause: str) -> bool:
    """Whether an outcome speaks clearly for a cause."""
    return row_of(test, cause).p[outcome] > TELLING * rest_of(test).p[outcome]
