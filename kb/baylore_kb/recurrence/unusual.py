"""Find pairs that have lately been seen more often than chance allows.

A pair is held against the share of its failure among all other cars, and the traffic of its own car apart
from that failure: a common failure does not hide itself so.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy.special import betainc, logsumexp

from baylore_kb.recurrence.book import Book
from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.discovery import FALSE_SHARE, adjusted_all
from baylore_kb.recurrence.recent import Recent, recent
from baylore_kb.recurrence.rows import LEAST

MONTHS = 72
# What is looked for: a failure far more frequent than on other cars; those a little above are let pass.
RATIO, PASSED = 5.0, 1.2
# The limit of the sums for 300 watched pairs, chosen so that they raise less than one false alert a quarter
# and four of five defects of that ratio are found within three months of their eighth case (tests/bench).
LIMIT, _PAIRS = -0.8, 300.0
_MONTHLY, _BUSY = 60.0, 0.8
# So many cases are enough; each one fewer must be made up for by so much more evidence.
_ENOUGH, _FEW = 8.0, 2.2
# A defect is taken to have begun lately rather than long ago: the chance falls by e in so many months.
_FADES = 24.0
# How like each other pairs are taken to be by nature, as the shape of a gamma: from much unlike to alike.
_UNLIKE, _ALIKE = 8.0, 200.0
_LOUD = 3.0
ENOUGH_CASES = 100
_RECENT = 18


@dataclass(frozen=True, slots=True)
class Unusual:
    """A pair seen more often than chance allows over the last `months`; `sum` is the log of its odds
    over all months it may have begun in.

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
    sums, begun, expected = _sums(seen)
    tails = _tails(seen)
    shares = adjusted_all(tails.ravel()).reshape(tails.shape)
    limit = limit_for(sums.size, _monthly(seen))
    for at in zip(*np.nonzero(sums >= limit), strict=True):
        place = int(at[0]), int(at[1])
        run = slice(int(begun[place]), None)
        yield Unusual(
            seen.keys[place],
            len(seen.counts[run]),
            round(float(seen.counts[run, place[0], place[1]].sum())),
            float(expected[run, place[0], place[1]].sum()),
            float(sums[place]),
            float(tails[place]),
            float(shares[place]),
        )


def _sums(seen: Recent) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The log of the odds of each pair over all months its run may have begun in, the likeliest of them, and
    what each month let expect.

    Within a run the count is negative binomial: how often its car is here is told by the car's other visits,
    how it is by nature by other pairs, and both by what the pair had before the run.
    """
    counts = seen.counts.astype(float)
    expected = _expected(seen, counts)
    run, hoped = _to_the_end(counts), _to_the_end(expected)
    visits = counts.sum(axis=0).sum(axis=1, keepdims=True) - counts.sum(axis=0) + 0.5
    known = 1.0 / (1.0 / _alike(counts.sum(axis=0), expected.sum(axis=0)) + 1.0 / visits)
    shape = known + run[0] - run
    mean = hoped * shape / (known + hoped[0] - hoped) * PASSED
    odds = run * math.log(RATIO) - (shape + run) * np.log((shape + RATIO * mean) / (shape + mean))
    odds -= _FEW * np.maximum(0.0, _ENOUGH - run)
    first = int((counts.sum(axis=(1, 2)) > 0.0).argmax())
    odds[first:] += _begun(len(counts))[first:, None, None]
    return logsumexp(odds[first:], axis=0), first + odds[first:].argmax(axis=0), expected


def _begun(months: int) -> np.ndarray:
    """The log of the chance that a defect began in each month, the last one likeliest."""
    falls = np.arange(months)[::-1] / -_FADES
    return np.asarray(falls - logsumexp(falls))


def _to_the_end(counts: np.ndarray) -> np.ndarray:
    """For each month the sum from it to the last."""
    return np.asarray(np.cumsum(counts[::-1], axis=0)[::-1])


def _expected(seen: Recent, counts: np.ndarray) -> np.ndarray:
    """What each month lets expect of a pair: its rate to one visit of another car, times those visits."""
    held = counts.sum(axis=0)
    share = _share(seen, held)
    others = held.sum(axis=1, keepdims=True) - held + 0.5
    rate = others / (_elsewhere(held) + 0.5) * share / (1.0 - share)
    elsewhere = counts.sum(axis=(1, 2))[:, None] - counts.sum(axis=2)
    return np.asarray(rate[None] * elsewhere[:, :, None])


def _alike(observed: np.ndarray, expected: np.ndarray) -> float:
    """How like each other pairs are by nature: the shape of a gamma, by moments, the loudest left out."""
    seen = expected > 0.2
    n, e = observed[seen], expected[seen]
    quiet = n - e < _LOUD * np.sqrt(e)
    n, e = n[quiet], e[quiet]
    if not len(n) or n.sum() <= 0:
        return _ALIKE
    e = e * (n.sum() / e.sum())
    spread = float(((n - e) ** 2 - n).sum() / (e**2).sum())
    return min(max(1.0 / max(spread, 1.0 / _ALIKE), _UNLIKE), _ALIKE)


def _tails(seen: Recent) -> np.ndarray:
    """The chance of as many in the last year and a half; 1 under three.

    The count is Poisson given the car's traffic, which its other visits of six years tell as a gamma.
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
