"""How far two cars' readings agree: by verdict first, by value inside a tolerance second."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from baylore_kb.errors import BayloreError
from baylore_kb.trade.model import Quantity, Trade
from baylore_kb.units import convert, shown
from baylore_kb.values import Judged, Reading

# Instrument tolerance as a share of the value, and of the hard range at least; common practice.
_OF_VALUE, _OF_RANGE = 0.02, 0.002
_SCALE_OF_RANGE = 0.05
# A good reading shared says less than the same bad one.
_GOOD, _BAD, _UNJUDGED = 0.3, 1.0, 0.5


@dataclass(frozen=True, slots=True)
class Agreement:
    """Weight of readings that agree and that contradict, each 0 or more, and the agreeing ones in words."""

    agree: float = 0.0
    contradict: float = 0.0
    words: tuple[str, ...] = ()


def closeness(a: float, b: float, *, tolerance: float, scale: float) -> float:
    """1 inside `tolerance`, then exp(-((|a - b| - tolerance) / scale)^2); `scale` > 0, all in one unit.

    Source: own form beside Gower 1971.
    """
    beyond = abs(a - b) - tolerance
    return 1.0 if beyond <= 0 else math.exp(-((beyond / scale) ** 2))


def agreement(asked: Sequence[Judged], past: Sequence[Judged], trade: Trade) -> Agreement:
    """How the readings of a question and of a past case agree; the best twin of each counts once.

    Only readings of one quantity before the correction are compared, at the same point where both name one.
    """
    agree = contradict = 0.0
    words: list[str] = []
    for one in asked:
        twins = [_pair(one, other, trade) for other in past if _comparable(one.reading, other.reading)]
        if one.reading.when == "after" or not twins:
            continue
        best = max(twins, key=lambda pair: pair[0] - pair[1])
        agree, contradict = agree + best[0], contradict + best[1]
        if best[0] > best[1]:
            words.append(_words(one, trade))
    return Agreement(agree, contradict, tuple(dict.fromkeys(words)))


def _comparable(a: Reading, b: Reading) -> bool:
    return (
        a.quantity == b.quantity
        and b.when == "before"
        and (not a.point or not b.point or _same(a.point, b.point))
    )


def _same(a: str, b: str) -> bool:
    """Whether two test points may be one: any word in common, since nobody writes a point the same twice."""
    return bool({*a.casefold().split()} & {*b.casefold().split()})


def _pair(a: Judged, b: Judged, trade: Trade) -> tuple[float, float]:
    """Weight for and against of two readings of one quantity."""
    close = _close(a, b, trade.quantities.get(a.reading.quantity))
    if a.good is None or b.good is None:
        return _UNJUDGED * close, _UNJUDGED * (1.0 - close) / 2.0
    if a.good != b.good:
        return 0.0, 1.0
    weight = _GOOD if a.good else _BAD
    if a.verdict != b.verdict:
        return 0.0, weight / 2.0
    return weight * (0.5 + 0.5 * close), 0.0


def _close(a: Judged, b: Judged, quantity: Quantity | None) -> float:
    try:
        other = convert(b.reading.value, b.reading.unit, a.reading.unit)
    except BayloreError:
        return 0.0
    reach = _reach(quantity, a.reading.unit)
    tolerance = max(_OF_VALUE * abs(a.reading.value), _OF_RANGE * reach)
    return closeness(a.reading.value, other, tolerance=tolerance, scale=_scale(a, reach))


def _scale(judged: Judged, reach: float) -> float:
    """Half the width of the expected band, or a share of the quantity's range where it is open."""
    band = judged.expected
    if band is not None and band.low is not None and band.high is not None and band.high > band.low:
        try:
            ends = (convert(end, band.unit, judged.reading.unit) for end in (band.low, band.high))
            return max(abs(next(ends) - next(ends)) / 2.0, 1e-9)
        except BayloreError:
            return max(_SCALE_OF_RANGE * reach, 1e-9)
    return max(_SCALE_OF_RANGE * reach, 0.1 * abs(judged.reading.value), 1e-9)


def _reach(quantity: Quantity | None, unit: str) -> float:
    """Width of the quantity's hard limits in `unit`; 0 where it is not known or as good as unbounded."""
    if quantity is None:
        return 0.0
    try:
        low, high = (convert(end, quantity.unit, unit) for end in (quantity.hard_low, quantity.hard_high))
    except BayloreError:
        return 0.0
    return abs(high - low) if abs(high - low) < 1e5 else 0.0


def _words(judged: Judged, trade: Trade) -> str:
    quantity = trade.quantities.get(judged.reading.quantity)
    title = quantity.title if quantity is not None else judged.reading.quantity
    return f"{title} {shown(judged.reading.value, judged.reading.unit)} ({judged.verdict})"
