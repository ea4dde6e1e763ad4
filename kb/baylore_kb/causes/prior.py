"""The chances before any test: what the words, codes and vehicle say by trade knowledge alone."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping

import numpy as np

from baylore_kb.causes.beliefs import OTHER_SYSTEM, Beliefs, Floats
from baylore_kb.codes import is_common, system_hints
from baylore_kb.tally import Tally

SUREST_HEARD = 0.99
CODE_FACTOR, COMMON_CODE_FACTOR = 3.0, 1.3
MENTION_FACTOR = 1.0
HABIT_PRIOR = 2.0
MISHEARD_ELSEWHERE = 0.05


def trade_prior(
    beliefs: Beliefs,
    heard: Iterable[tuple[str, float]],
    *,
    codes: Iterable[str] = (),
    mentioned: Mapping[str, float] | None = None,
    absent: Collection[str] = (),
    tally: Tally | None = None,
) -> Floats:
    """(C) chances of the listed causes, summing to 1, for symptoms heard with a chance in [0, 1].

    Several symptoms are to be explained together, and since they hang together count less than
    independent ones; one heard with doubt counts in part. Codes and components named in the words are
    soft hints; causes that need a trait known to be absent are out; causes this
    shop sees more or less often than its share count accordingly. Nothing heard gives the trade's own
    shares over all systems.
    """
    shares = beliefs.weight * beliefs.fits(absent) * _habits(beliefs, tally or Tally())
    heard = [(symptom, min(chance, SUREST_HEARD)) for symptom, chance in heard]
    temper = 1.0 / math.sqrt(max(1.0, sum(chance for _, chance in heard)))
    for symptom, chance in heard:
        shares = shares * _explains(beliefs, symptom, chance=chance) ** temper
    shares = shares * _codes(beliefs, codes) * _mentions(beliefs, mentioned or {})
    return np.asarray(shares / shares.sum())


def _explains(beliefs: Beliefs, symptom: str, *, chance: float) -> Floats:
    """(C) how much likelier the words are under each cause than at large, the symptom heard with a chance.

    Words heard wrongly still tend to be about the symptom's own systems: elsewhere they count a tenth.
    """
    shows = beliefs.shows[beliefs.symptom_at[symptom]]
    at_large = (beliefs.weight @ shows) / beliefs.weight.sum()
    misheard = np.where(shows > OTHER_SYSTEM, 1.0, MISHEARD_ELSEWHERE)
    return np.asarray(chance * shows / at_large + (1.0 - chance) * misheard)


def _habits(beliefs: Beliefs, tally: Tally) -> Floats:
    """(C) shrunk observed over expected count of each cause in the shop; 1 without cases."""
    seen = np.zeros(len(beliefs.causes))
    for counts in tally.causes.values():
        for cause, weight in counts.items():
            if cause in beliefs.cause_at:
                seen[beliefs.cause_at[cause]] += weight
    expected = seen.sum() * beliefs.weight / beliefs.weight.sum()
    return np.asarray((HABIT_PRIOR + seen) / (HABIT_PRIOR + expected))


def _codes(beliefs: Beliefs, codes: Iterable[str]) -> Floats:
    factor = np.ones(len(beliefs.causes))
    for code in dict.fromkeys(codes):
        hinted = np.isin(beliefs.systems, system_hints(code))
        factor = np.maximum(
            factor, np.where(hinted, COMMON_CODE_FACTOR if is_common(code) else CODE_FACTOR, 1.0)
        )
    return factor


def _mentions(beliefs: Beliefs, mentioned: Mapping[str, float]) -> Floats:
    weights = [mentioned.get(cause.component, 0.0) for cause in beliefs.trade.causes.values()]
    return 1.0 + MENTION_FACTOR * np.array(weights)


def heard_share(heard: Iterable[tuple[str, float]]) -> float:
    """Chance that at least one of the symptoms is really there; 0 when nothing was heard."""
    missed = 1.0
    for _, chance in heard:
        missed *= 1.0 - chance
    return 1.0 - missed
