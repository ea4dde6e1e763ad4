"""Pooling counts: causes from past cases and a base rate, outcomes from a shop's few counts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

SURE = 0.85


def pooled(
    counts: Iterable[tuple[str, float]], base: Mapping[str, float], *, alpha: float
) -> dict[str, float]:
    """The chance of each cause: (counts of it + alpha * base) / (all counts + alpha).

    `counts` are (cause, weight >= 0) of past cases, `base` sums to 1, alpha > 0. Without counts the base
    comes back. Source: Dirichlet-multinomial posterior mean.
    """
    sums: dict[str, float] = {cause: alpha * share for cause, share in base.items()}
    total = alpha
    for cause, weight in counts:
        sums[cause] = sums.get(cause, 0.0) + weight
        total += weight
    return {cause: weight / total for cause, weight in sums.items()}


def outcome_chances(counts: Floats, rate: Floats, *, alpha: float) -> Floats:
    """P(outcome | cause) from counts (C, O), shrunk to `rate` (O) or (C, O).

    (n_cr + alpha * rate_r) / (n_c + alpha) for cause c and outcome r. Without counts the rate
    comes back. Source: Dirichlet-multinomial posterior mean.
    """
    totals = counts.sum(axis=-1, keepdims=True)
    return np.asarray((counts + alpha * rate) / (totals + alpha))


def bayes(prior: Floats, likelihood: Floats) -> Floats:
    """The prior (C) after a result with P(result | cause) (C); an impossible result changes nothing."""
    joint = prior * likelihood
    total = joint.sum()
    return np.asarray(joint / total if total > 0 else prior)


def at_temperature(chances: Floats, temperature: float) -> Floats:
    """Chances made more (below 1) or less (above 1) sure, in the same order; temperature > 0."""
    powered = chances ** (1.0 / temperature)
    return np.asarray(powered / powered.sum())


def as_count(chance: float) -> float:
    """Pseudo-count of a past case that has the same cause with this chance: its odds.

    Odds let one sure match outweigh many faint ones; 0.85 and above count alike.
    """
    held = min(max(chance, 0.0), SURE)
    return held / (1.0 - held)


def unlisted_share(evidence: float) -> float:
    """Chance that the cause is none known here: max(5 %, 1 / (n + 2)), with n >= 0 the evidence."""
    return max(0.05, 1.0 / (evidence + 2.0))


def tempered(groups: Sequence[int]) -> Floats:
    """(N) exponents 1 / sqrt(group size) for results by their group: tests of one circuit say less."""
    sizes = np.array([groups.count(group) for group in groups], dtype=float)
    return np.asarray(1.0 / np.sqrt(sizes))
