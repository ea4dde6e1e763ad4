"""Alerts of what fails more often than expected, now or slowly rising."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from baylore_kb.alerts.alert import Alert, Kind
from baylore_kb.recurrence import Book, Unusual, unusual
from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.cusum import Rise, rise
from baylore_kb.recurrence.recent import Recent, recent
from baylore_kb.recurrence.sightings import title_of
from baylore_kb.recurrence.unusual import ENOUGH_CASES

# Luck alone takes a sum to the limit less than once in so many months over all watched pairs.
QUIET_MONTHS = 120.0
RISEN = 2.0
_SETTLING, _LEAST = 12, 6
MOST_CASES = 30


def signals(book: Book, month: int) -> Iterator[Alert]:
    """Pairs that stand out at the end of `month`, one alert each."""
    for one in unusual(book, month):
        yield _alert(book, "signal", one.key, says=_says(book, one), sure=one.sure, figures=_figures(one))


def _figures(one: Unusual) -> dict[str, float]:
    return {
        "observed": one.observed,
        "expected": one.expected,
        "months": one.months,
        "p": one.p,
        "q": one.q,
    }


def _says(book: Book, one: Unusual) -> str:
    sure = "" if one.sure else " An early hint: look, but do not count on it."
    time = f"last {one.months} months" if one.months > 1 else "last month"
    expected = f"about {one.expected:.1f}" if one.expected >= 0.05 else "hardly any"
    return (
        f"{_title(book, one.key)}: {one.observed} in the {time} where {expected} were to be expected from "
        f"the shop's other cars.{sure}"
    )


def rising(book: Book, month: int, *, besides: Iterable[str] = ()) -> Iterator[Alert]:
    """Pairs whose monthly counts add up to twice their usual rate or more, but for subjects told already.

    The usual rate is what the pair itself had in its first year, drawn to the shop's. Source: Lucas 1985.
    """
    seen = recent(book, month)
    if seen is None or float(seen.counts.sum()) < ENOUGH_CASES:
        return
    told = set(besides)
    limit = math.log(QUIET_MONTHS * max(1, len(seen.keys)))
    for place, key in seen.keys.items():
        if subject(book, "signal", key) in told or book.groups[key].count < _LEAST:
            continue
        found = _risen(seen, place, limit)
        if found is not None and found.sums[-1] >= limit:
            yield _rising(book, key, seen, place)


def _risen(seen: Recent, place: tuple[int, int], limit: float) -> Rise | None:
    """The sums of a pair after its first year; None where there is no year before."""
    own = seen.counts[:, place[0], place[1]]
    traffic = seen.counts.sum(axis=(1, 2)) - own
    begun = next((at for at, count in enumerate(traffic) if count > 0), len(traffic))
    early, later = slice(begun, begun + _SETTLING), slice(begun + _SETTLING, None)
    if begun + _SETTLING >= len(own) or float(traffic[early].sum()) <= 0:
        return None
    rate = _usual_rate(seen, place, early)
    counts = [int(each) for each in own[later]]
    return rise(counts, [rate * float(each) for each in traffic[later]], limit=limit, ratio=RISEN)


def _usual_rate(seen: Recent, place: tuple[int, int], early: slice) -> float:
    """Cases of the pair to one other case: its own first year, drawn to what car and failure let expect."""
    counts = seen.counts[early]
    total = float(counts.sum())
    car, failure = float(counts[:, place[0]].sum()), float(counts[:, :, place[1]].sum())
    expected = car * failure / total
    own = float(counts[:, place[0], place[1]].sum())
    ratio = (own + 2.0) / (expected + 2.0)
    return max(ratio * (expected + 0.5), own + 0.5) / max(1.0, total - own)


def _rising(book: Book, key: Key, seen: Recent, place: tuple[int, int]) -> Alert:
    own = seen.counts[:, place[0], place[1]]
    last, before = int(own[-12:].sum()), int(own[-24:-12].sum())
    says = f"{_title(book, key)} rises: {last} in the last twelve months, {before} in the twelve before."
    figures = {"last_year": float(last), "year_before": float(before), "month": float(seen.month)}
    return _alert(book, "trend", key, says=says, sure=False, figures=figures)


def _alert(book: Book, kind: Kind, key: Key, *, says: str, sure: bool, figures: dict[str, float]) -> Alert:
    group = book.groups[key]
    return Alert(
        kind=kind,
        subject=subject(book, kind, key),
        title=_title(book, key),
        says=says,
        level=group.count,
        sure=sure,
        figures=figures,
        key=dict(zip(book.by, key, strict=True)),
        cases=group.facts.cases[-MOST_CASES:],
    )


def subject(book: Book, kind: Kind, key: Sequence[str]) -> str:
    """What names the same alert again."""
    return "/".join((kind, *(f"{name}={value}" for name, value in zip(book.by, key, strict=True))))


def _title(book: Book, key: Key) -> str:
    sample = book.groups[key].facts.sample
    named = zip(book.by, key, strict=True)
    return ", ".join(title_of(name, value, sample, book.trade) for name, value in named)
