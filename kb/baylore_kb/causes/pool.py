"""Pooling counts: causes from past cases and a base rate, outcomes from a shop's few counts."""

from __future__ import annotations

from collections.abc import Container, Iterable, Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

SURE = 0.85
# Share of jobs whose cause no list holds, before the shop has cases: common practice, no published source.
NEW_SHARE, NEW_WEIGHT = 0.08, 50.0


def pooled(counts: Floats, base: Floats, *, alpha: float) -> Floats:
    """(..., C) the chance of each cause: (counts of it + alpha * base) / (all counts + alpha).

    `counts` (..., C) are weights >= 0 of past cases, `base` (..., C) sums to 1, alpha > 0. Without counts the
    base comes back. Source: Dirichlet-multinomial posterior mean.
    """
    return np.asarray((counts + alpha * base) / (counts.sum(axis=-1, keepdims=True) + alpha))


def outcome_chances(counts: Floats, rate: Floats, *, alpha: float) -> Floats:
    """P(outcome | cause) from counts (C, O), shrunk to `rate` (O) or (C, O).

    (n_cr + alpha * rate_r) / (n_c + alpha) for cause c and outcome r. Without counts the rate
    comes back. Source: Dirichlet-multinomial posterior mean.
    """
    totals = counts.sum(axis=-1, keepdims=True)
    return np.asarray((counts + alpha * rate) / (totals + alpha))


def bayes(prior: Floats, likelihood: Floats) -> Floats:
    """The prior (..., C) after a result with P(result | cause); an impossible result changes nothing."""
    joint = prior * likelihood
    total = joint.sum(axis=-1, keepdims=True)
    return np.asarray(np.where(total > 0, joint / np.where(total > 0, total, 1.0), prior))


def at_temperature(chances: Floats, temperature: float) -> Floats:
    """Chances (..., C) made more (below 1) or less (above 1) sure, in the same order; temperature > 0."""
    powered = chances ** (1.0 / temperature)
    return np.asarray(powered / powered.sum(axis=-1, keepdims=True))


def listed_at_temperature(chances: Floats, temperature: float) -> Floats:
    """Chances (..., N) with the listed ones made more or less sure among themselves; the last one stays."""
    listed = at_temperature(chances[..., :-1], temperature) * (1.0 - chances[..., -1:])
    return np.concatenate([listed, chances[..., -1:]], axis=-1)


def as_count(chances: ArrayLike) -> Floats:
    """(...) pseudo-counts of past cases that have the same cause with these chances (...): their odds.

    Odds let one sure match outweigh many faint ones; 0.85 and above count alike.
    """
    held = np.minimum(np.maximum(np.asarray(chances, dtype=np.float64), 0.0), SURE)
    return np.asarray(held / (1.0 - held))


def unlisted_share(evidence: Floats) -> Floats:
    """Chance that the cause is none known here: max(5 %, 1 / (n + 2)), with n >= 0 the evidence (...)."""
    return np.maximum(0.05, 1.0 / (evidence + 2.0))


def new_share(counts: Iterable[Mapping[str, float]], listed: Container[str]) -> float:
    """Chance that the next case has a cause nobody here has named before, from a shop's counts by cause.

    The share of cases whose cause was seen once, of those no list holds, drawn towards 8 % with the weight
    of 50 cases; always below 1. Source: Good 1953 (Turing's estimate).
    """
    cases = once = 0.0
    for by_cause in counts:
        cases += sum(by_cause.values())
        once += sum(weight for cause, weight in by_cause.items() if weight <= 1.0 and cause not in listed)
    return (NEW_SHARE * NEW_WEIGHT + once) / (NEW_WEIGHT + cases)


def tempered(kept: Floats, together: Bools) -> Floats:
    """(R, T) exponents 1 / sqrt(group size) of results: those of one circuit say less together than apart.

    `kept` (R, T) is 1 where a result counts in the row and 0 where it is left out; `together` (T, T) tells
    which results share a circuit, each with itself.
    """
    sizes = kept @ together.astype(np.float64)
    return np.asarray(kept / np.sqrt(np.maximum(sizes, 1.0)))
