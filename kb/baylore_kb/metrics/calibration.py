"""How far probabilities can be trusted: Brier score and its parts, log loss, calibration error.

`p` are forecasts in [0, 1] in step with `y`, 1 where the thing came true and 0 where not.
No forecasts give 0. Lengths that differ raise ValueError.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

BINS = 10
# A forecast of 0 or 1 that fails would cost infinity; this is what it costs here.
CLIP = 1e-15


def brier(p: Sequence[float], y: Sequence[int]) -> float:
    """Mean squared distance of forecast and truth, 0 best. Source: Brier 1950, one-class form."""
    pairs = list(zip(p, y, strict=True))
    return math.fsum((forecast - truth) ** 2 for forecast, truth in pairs) / max(1, len(pairs))


def log_loss(p: Sequence[float], y: Sequence[int]) -> float:
    """Mean of -ln(chance given to what came true), 0 best; forecasts are kept 1e-15 from 0 and 1."""
    pairs = list(zip(p, y, strict=True))
    given = (forecast if truth else 1.0 - forecast for forecast, truth in pairs)
    return -math.fsum(math.log(min(max(chance, CLIP), 1.0)) for chance in given) / max(1, len(pairs))


@dataclass(frozen=True, slots=True)
class Bin:
    """Forecasts of one tenth: how many, their mean, and the share that came true."""

    index: int
    count: int
    mean_forecast: float
    share_true: float


@dataclass(frozen=True, slots=True)
class Reliability:
    """The bins that hold forecasts and what follows from them.

    `reliability - resolution + uncertainty` is the Brier score only where forecasts
    inside a bin are equal (Murphy 1973); `ece` is biased upward for few forecasts
    (Guo et al. 2017), so look at the counts.
    """

    bins: tuple[Bin, ...]
    ece: float
    reliability: float
    resolution: float
    uncertainty: float


def reliability(p: Sequence[float], y: Sequence[int]) -> Reliability:
    """The reliability table in ten equal bins, right-open, with 1.0 in the last."""
    bins = _bins(list(zip(p, y, strict=True)))
    total = max(1, len(p))
    base = sum(y) / total
    return Reliability(
        bins=bins,
        ece=math.fsum(b.count * abs(b.share_true - b.mean_forecast) for b in bins) / total,
        reliability=math.fsum(b.count * (b.mean_forecast - b.share_true) ** 2 for b in bins) / total,
        resolution=math.fsum(b.count * (b.share_true - base) ** 2 for b in bins) / total,
        uncertainty=base * (1.0 - base),
    )


def expected_calibration_error(p: Sequence[float], y: Sequence[int]) -> float:
    """Mean distance of forecast and share that came true over ten bins, 0 best."""
    return reliability(p, y).ece


def _bins(pairs: list[tuple[float, int]]) -> tuple[Bin, ...]:
    held: dict[int, list[tuple[float, int]]] = {}
    for forecast, truth in pairs:
        held.setdefault(min(int(forecast * BINS), BINS - 1), []).append((forecast, truth))
    return tuple(_bin(index, held[index]) for index in sorted(held))


def _bin(index: int, pairs: list[tuple[float, int]]) -> Bin:
    count = len(pairs)
    return Bin(index, count, math.fsum(f for f, _ in pairs) / count, sum(t for _, t in pairs) / count)
