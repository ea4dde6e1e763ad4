"""What is really so in an invented town: how often causes are, as what they show, what tests show of them.

Drawn around the trade lists and never equal to them, with causes that no list knows.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.causes.beliefs import Beliefs, Floats, beliefs_of
from baylore_kb.plan.problem import Ints
from baylore_kb.trade.model import Trade
from baylore_kb.trade.places import place_factor

# Spread of the true rates around the listed weights, on the log scale.
RATE_SPREAD = 0.7
# A true row of outcome chances is a Dirichlet draw that is worth so many tests of the listed one.
ROW_WORTH, SYMPTOM_WORTH = 10.0, 6.0
STRANGE_CAUSES, STRANGE_SHARE = 60, 0.08
# Now and then a fault shows as something its list leaves out.
UNUSUAL = 0.06


@dataclass(frozen=True, slots=True)
class Nature:
    """The truth: N causes, the listed ones first, then strange ones that no list knows.

    `at` is the place of each cause. `rates` (N) sum to 1. `shows` (S, N): P(symptom | cause), columns sum
    to 1. `rows`: test -> (O, N) P(outcome | cause) while the fault is there; `good`: test -> (O) on a car
    without it. `minutes`: test -> true minutes over listed ones. `labour` and `prices` (N): minutes and
    money of the right repair with a maker's part.
    """

    trade: Trade
    causes: tuple[str, ...]
    at: Mapping[str, int]
    systems: tuple[str, ...]
    rates: Floats
    shows: Floats
    rows: Mapping[str, Floats]
    good: Mapping[str, Floats]
    minutes: Mapping[str, float]
    labour: Floats
    prices: Floats

    def listed(self, cause: str) -> bool:
        """Whether the trade lists know the cause."""
        return cause in self.trade.causes


def nature(trade: Trade, chance: np.random.Generator) -> Nature:
    """A truth of this seed around the trade lists."""
    beliefs = beliefs_of(trade)
    kin = chance.integers(len(beliefs.causes), size=STRANGE_CAUSES)
    causes = (*beliefs.causes, *(f"own.strange_{place:02d}" for place in range(STRANGE_CAUSES)))
    systems = (*beliefs.systems, *(beliefs.systems[k] for k in kin))
    rows, good = _rows(beliefs, chance)
    return Nature(
        trade=trade,
        causes=causes,
        at={cause: place for place, cause in enumerate(causes)},
        systems=systems,
        rates=_rates(beliefs, chance),
        shows=_shows(beliefs, kin, chance),
        rows=rows,
        good=good,
        minutes={test: float(np.exp(chance.normal(0.05, 0.3))) for test in trade.tests},
        labour=_labour(trade, chance),
        prices=_prices(trade, chance),
    )


def _rates(beliefs: Beliefs, chance: np.random.Generator) -> Floats:
    listed = beliefs.weight * np.exp(chance.normal(0.0, RATE_SPREAD, len(beliefs.causes)))
    strange = 1.0 / (1.0 + np.arange(STRANGE_CAUSES))
    return np.concatenate(
        [(1.0 - STRANGE_SHARE) * listed / listed.sum(), STRANGE_SHARE * strange / strange.sum()]
    )


def _shows(beliefs: Beliefs, kin: Ints, chance: np.random.Generator) -> Floats:
    """Strange causes show as a listed one of their system does, only in other shares."""
    usual = np.zeros((len(beliefs.symptom_at), len(beliefs.causes)))
    for column, cause in enumerate(beliefs.trade.causes.values()):
        for place, symptom in enumerate(cause.symptoms):
            usual[beliefs.symptom_at[symptom], column] = place_factor(place)
        suspects = [
            s for s, listed in enumerate(beliefs.trade.symptoms.values()) if cause.system in listed.systems
        ]
        usual[suspects, column] += UNUSUAL * usual[:, column].sum() / len(suspects)
    usual = np.hstack([usual, usual[:, kin]])
    drawn = chance.standard_gamma(SYMPTOM_WORTH * usual / usual.sum(axis=0) + 1e-9)
    return np.asarray(drawn / drawn.sum(axis=0))


def _rows(beliefs: Beliefs, chance: np.random.Generator) -> tuple[dict[str, Floats], dict[str, Floats]]:
    rows, good = {}, {}
    for test in beliefs.tests:
        listed = beliefs.lik[beliefs.test_at[test], : len(beliefs.trade.tests[test].outcomes)]
        wide = np.hstack([listed[:, :-1], np.repeat(listed[:, -1:], STRANGE_CAUSES + 1, axis=1)])
        drawn = chance.standard_gamma(ROW_WORTH * wide + 0.02)
        drawn /= drawn.sum(axis=0)
        rows[test], good[test] = drawn[:, :-1], drawn[:, -1]
    return rows, good


def _labour(trade: Trade, chance: np.random.Generator) -> Floats:
    listed = [30.0 * (cause.labour_low_h + cause.labour_high_h) for cause in trade.causes.values()]
    usual = np.array([*listed, *([90.0] * STRANGE_CAUSES)])
    return np.asarray(usual * np.exp(chance.normal(0.0, 0.25, len(usual))))


def _prices(trade: Trade, chance: np.random.Generator) -> Floats:
    listed = [cause.part_price or 0.0 for cause in trade.causes.values()]
    usual = np.array([*listed, *([40.0] * STRANGE_CAUSES)])
    return np.asarray(usual * np.exp(chance.normal(0.0, 0.3, len(usual))))
