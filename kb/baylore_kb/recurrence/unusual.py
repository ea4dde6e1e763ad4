"""Find pairs that have lately been seen more often than chance allows.

A pair is held against the share of its failure among all other cars, and the traffic of its own car apart
from that failure: a common failure does not hide itself so.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy.special import betainc

from baylore_kb.recurrence.book import Book
from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.discovery import FALSE_SHARE, adjusted_all
from baylore_kb.recurrence.recent import Recent, recent
from baylore_kb.recurrence.rows import LEAST

MONTHS = 48
# What is looked for: a failure four times as frequent as on other cars.
RATIO = 4.0
# The limit of the sums for 300 watched pairs, chosen so that they raise less than one false alert a quarter
# and four of five defects of that ratio are found within three months of their eighth case (tests/bench).
LIMIT, _PAIRS = 4.6, 300.0
_MONTHLY, _BUSY = 60.0, 0.3
# Standard errors that the car's traffic is taken higher than it was seen: few visits tell little.
_CAUTION = 1.0
ENOUGH_CASES = 100
_RECENT = 18


@dataclass(frozen=True, slots=True)
class Unusual:
    """A pair seen more often than chance allows over the last `months`; `sum` is the log of its odds.

    `p` is the chance of as many in the last year and a half, `q` the share of false discoveries at it.
    """

    key: Key
    months: int
    observed: int
    expected: float
    sum: float
    p: float
    q: float

    @property
    def sure(self) -> bool:
        """Whether at most a tenth of pairs so unusual are false alarms."""
        return self.q <= FALSE_SHARE


def unusual(book: Book, month: int) -> tuple[Unusual, ...]:
    """Pairs of a book that stand out at the end of `month` (twelve to a year), the surest first.

    None under a hundred cases. At most about one in a quarter is false, however many pairs are watched.
    """
    seen = recent(book, month)
    if seen is None or float(seen.counts.sum()) < ENOUGH_CASES:
        return ()
    return tuple(sorted(_found(seen), key=lambda one: (-one.sum, one.key)))


def limit_for(pairs: int, monthly: float) -> float:
    """The limit of the sums: higher for more pairs than 300 and for more cases a month."""
    busy = _BUSY * math.log(max(monthly, 10.0) / _MONTHLY)
    return LIMIT + busy + math.log(max(pairs, _PAIRS) / _PAIRS)


def _monthly(seen: Recent) -> float:
    """Cases a month over the last year, of months with any."""
    months = seen.counts[-12:].sum(axis=(1, 2))
    return float(months.sum()) / max(1, int((months > 0).sum()))


def _found(seen: Recent) -> Iterator[Unusual]:
    rate = _rates(seen)
    sums, begun = _sums(seen, rate)
    tails = _tails(seen)
    shares = adjusted_all(tails.ravel()).reshape(tails.shape)
    held = seen.within(MONTHS, 0) >= LEAST
    limit = limit_for(sums.size, _monthly(seen))
    for at in zip(*np.nonzero((sums >= limit) & held), strict=True):
        place = int(at[0]), int(at[1])
        months = MONTHS - int(begun[place])
        count = float(seen.within(months, 0)[place])
        expected = float(rate[place] * _elsewhere(seen.within(months, 0))[place[0], 0])
        yield Unusual(
            seen.keys[place],
            months,
            round(count),
            expected,
            float(sums[place]),
            float(tails[place]),
            float(shares[place]),
        )


def _sums(seen: Recent, rate: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The sums of log likelihood after the last month, and the month each began to rise from nothing."""
    counts = seen.counts[-MONTHS:]
    sums, begun = np.zeros(rate.shape), np.zeros(rate.shape, dtype=int)
    for at, month in enumerate(counts):
        sums = sums + month * math.log(RATIO) - rate * _elsewhere(month) * (RATIO - 1.0)
        begun = np.where(sums <= 0.0, at + 1, begun)
        sums = np.maximum(sums, 0.0)
    return sums, begun


def _rates(seen: Recent) -> np.ndarray:
    """What each pair lets expect to one visit of another car, with caution for cars seldom here."""
    held = seen.within(MONTHS, 0)
    share = _share(seen, held)
    others = held.sum(axis=1, keepdims=True) - held + 0.5
    cautious = others + _CAUTION * np.sqrt(others)
    return np.asarray(cautious / (_elsewhere(held) + 0.5) * share / (1.0 - share))


def _tails(seen: Recent) -> np.ndarray:
    """The chance of as many in the last year and a half; 1 under three.

    The count is Poisson given the car's traffic, which its other visits of four years tell as a gamma.
    """
    now, held = seen.within(_RECENT, 0), seen.within(MONTHS, 0)
    share = _share(seen, held)
    others = held.sum(axis=1, keepdims=True) - held + 0.5
    rate, odds = (_elsewhere(held) + 0.5) * (1.0 - share), (_elsewhere(now) + 0.5) * share
    return np.where(now >= LEAST, betainc(np.maximum(now, 1.0), others, odds / (rate + odds)), 1.0)


def _share(seen: Recent, held: np.ndarray) -> np.ndarray:
    """The failure's share among all other cars, leaned to the pair's odometer bands and years; under 1."""
    elsewhere = held.sum(axis=0, keepdims=True) - held
    return np.asarray(np.minimum((elsewhere + 0.5) / (_elsewhere(held) + 1.0) * seen.lean, 0.95))


def _elsewhere(counts: np.ndarray) -> np.ndarray:
    """All visits of other cars, one figure a car."""
    return np.asarray(counts.sum() - counts.sum(axis=1, keepdims=True))
