"""How far two cars' readings agree: by verdict first, by value freed of its conditions second."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from baylore_kb.readings import closeness, similarity
from baylore_kb.trade.model import Trade
from baylore_kb.units import shown
from baylore_kb.values import Judged

__all__ = ["Agreement", "agreement", "closeness"]

# A good reading shared says less than the same bad one.
_GOOD, _BAD, _UNJUDGED = 0.3, 1.0, 0.5


@dataclass(frozen=True, slots=True)
class Agreement:
    """Weight of readings that agree and that contradict, each 0 or more, and the agreeing ones in words."""

    agree: float = 0.0
    contradict: float = 0.0
    words: tuple[str, ...] = ()


def agreement(asked: Sequence[Judged], past: Sequence[Judged], trade: Trade) -> Agreement:
    """How the readings of a question and of a past case agree; the best twin of each counts once.

    Only readings of one quantity before the correction are compared, at the same point where both name
    one. Where both cars have a value worked out from readings (subcooling from pressure and pipe), it
    stands for them. What could not be judged, such as a pressure at an unknown temperature, is left out.
    """
    agree = contradict = 0.0
    words: list[str] = []
    stood_for = _stood_for(asked, past)
    for one in asked:
        if one.reading.when == "after" or one.reading.quantity in stood_for:
            continue
        twins = [_pair(one, other) for other in past if _comparable(one, other)]
        if not twins:
            continue
        best = max(twins, key=lambda pair: pair[0] - pair[1])
        agree, contradict = agree + best[0], contradict + best[1]
        if best[0] > best[1]:
            words.append(_words(one, trade))
    return Agreement(agree, contradict, tuple(dict.fromkeys(words)))


def _stood_for(asked: Sequence[Judged], past: Sequence[Judged]) -> set[str]:
    """Quantities that both sides' values worked out from the same ones stand for."""
    known = {(one.reading.quantity, one.of) for one in past if one.of}
    both = (one.of for one in asked if one.of and (one.reading.quantity, one.of) in known)
    return {quantity for of in both for quantity in of}


def _comparable(one: Judged, other: Judged) -> bool:
    a, b = one.reading, other.reading
    return (
        a.quantity == b.quantity
        and b.when == "before"
        and (not one.of or not other.of or one.of == other.of)
        and (not a.point or not b.point or _same(a.point, b.point))
    )


def _same(a: str, b: str) -> bool:
    """Whether two test points may be one: any word in common, since nobody writes a point the same twice."""
    return bool({*a.casefold().split()} & {*b.casefold().split()})


def _pair(a: Judged, b: Judged) -> tuple[float, float]:
    """Weight for and against of two readings of one quantity."""
    close = similarity(a.likened, b.likened) if a.likened and b.likened else None
    if a.good is None or b.good is None:
        return (0.0, 0.0) if close is None else (_UNJUDGED * close, _UNJUDGED * (1.0 - close) / 2.0)
    if a.good != b.good:
        return 0.0, 1.0
    weight = _GOOD if a.good else _BAD
    if a.verdict != b.verdict:
        return 0.0, weight / 2.0
    return weight * (0.5 + 0.5 * (close or 0.0)), 0.0


def _words(judged: Judged, trade: Trade) -> str:
    quantity = trade.quantities.get(judged.reading.quantity)
    title = quantity.title if quantity is not None else judged.reading.quantity
    return f"{title} {shown(judged.reading.value, judged.reading.unit)} ({judged.verdict})"
