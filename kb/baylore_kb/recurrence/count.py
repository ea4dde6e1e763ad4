"""Failures that come back across vehicles, against what a shop could expect."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from baylore_kb.recurrence.book import Book, check
from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.change import Change, convincing_changes
from baylore_kb.recurrence.monthly import Monthly, Months, monthly
from baylore_kb.recurrence.notes import notes
from baylore_kb.recurrence.rows import Beside, Recurrence, rows
from baylore_kb.recurrence.sightings import counts, utc
from baylore_kb.recurrence.standing import Standing
from baylore_kb.recurrence.steady import Steady
from baylore_kb.recurrence.traffic import Traffic
from baylore_kb.recurrence.trend import Trend
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

# The months of so many rows are held at once.
_AT_ONCE = 512
_EVER = datetime.min.replace(tzinfo=UTC), datetime.max.replace(tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Recurrences:
    """Rows, most surely more than expected first, and plain notes on what they cannot tell.

    `cases` counts the closed cases the rows rest on, `pairs` the rows there are in all.
    """

    by: tuple[str, ...]
    rows: tuple[Recurrence, ...]
    notes: tuple[str, ...]
    cases: int
    pairs: int = 0


@dataclass(frozen=True, slots=True)
class Asked:
    """How a book is read: rows of at least `min_cases`, the `limit` surest, as of `now`.

    `visits` are neutral visits recorded by model ("make model"), case ignored. `only` are names rows must
    have, case ignored; expected counts rest on all cases all the same.
    """

    min_cases: int = 2
    limit: int | None = None
    now: datetime | None = None
    visits: Mapping[str, int] | None = None
    only: Mapping[str, str] | None = None


def recurrences(
    cases: Iterable[Case],
    *,
    by: Sequence[str] = ("model", "system"),
    since: datetime | None = None,
    until: datetime | None = None,
    min_cases: int = 2,
    trade: Trade | None = None,
    now: datetime | None = None,
    visits: Mapping[str, int] | None = None,
) -> Recurrences:
    """Closed cases grouped `by` any names of car and failure (`sightings.BY`), against the expected.

    Expected counts come from the cars' and the failures' totals, within odometer band and
    year, so they need one of each in `by`. `since` is included, `until` not; times
    without zone are UTC. Rows of under `min_cases` are left out. No cases, no rows.
    Raises UnknownGrouping.
    """
    check(by)
    lists = trade or load()
    return read(
        dated_book(cases, by, since=since, until=until, trade=lists),
        Asked(min_cases, now=now, visits=visits),
        dated=bool(since or until),
    )


def dated_book(
    cases: Iterable[Case],
    by: Sequence[str],
    *,
    since: datetime | None,
    until: datetime | None,
    trade: Trade,
) -> Book:
    """A book of the closed cases of a time; the undated are left out of it and counted as such."""
    book = Book(by, trade)
    if since is None and until is None:
        book.fill(cases)
        return book
    dated = [(case, utc(case.opened or case.closed)) for case in cases if counts(case)]
    first, last = utc(since) or _EVER[0], utc(until) or _EVER[1]
    book.fill(case for case, when in dated if when is not None and first <= when < last)
    book.undated = sum(when is None for _, when in dated)
    return book


def read(book: Book, asked: Asked = Asked(), *, dated: bool = False) -> Recurrences:
    """The rows of a book, and what they cannot tell. Takes time by groups, not by cases."""
    held = Standing(book)
    order = held.surest(_wanted(held, book.by, asked))
    single = book.single
    said = notes(
        by=book.by,
        single=single,
        incomplete=book.incomplete,
        undated=book.undated if dated else 0,
        visits=bool(asked.visits),
    )
    found = _rows(book, held, order[: asked.limit], asked=asked)
    return Recurrences(book.by, tuple(found), said, single, len(order))


def _wanted(held: Standing, by: tuple[str, ...], asked: Asked) -> np.ndarray:
    """The places of keys with enough cases and the names asked for; names not counted by say nothing."""
    enough = held.counts >= asked.min_cases
    places = [(by.index(name), value.casefold()) for name, value in (asked.only or {}).items() if name in by]
    if places:
        named = (all(key[at].casefold() == value for at, value in places) for key in held.counted.keys)
        enough &= np.fromiter(named, dtype=np.bool_, count=len(enough))
    return np.flatnonzero(enough)


def key_of(book: Book, names: Mapping[str, str]) -> Key | None:
    """The key of names for each thing counted by, case ignored; None where nothing is counted under it."""
    if not all(name in names for name in book.by):
        return None
    wanted = [names[name].casefold() for name in book.by]
    return next((key for key in book.counted.keys if [name.casefold() for name in key] == wanted), None)


def row_by_month(book: Book, key: Key, asked: Asked) -> tuple[Recurrence, Monthly]:
    """One row of a book with its months, against its expected count, else against its own mean."""
    held = Standing(book)
    which = np.array([held.counted.keys.index(key)])
    (row,), ((_, months),) = _rows(book, held, which, asked=asked), _months(book.traffic, held, which)
    return row, months.one(0)


def _rows(book: Book, held: Standing, which: np.ndarray, *, asked: Asked) -> list[Recurrence]:
    """The rows of these places of keys."""
    traffic = book.traffic
    sure = book.steady.sure(held.counted, held.hoped, traffic.shop, start=traffic.start)
    trends, changes = list[Trend | None](), list[Change | None]()
    for some, months in _months(traffic, held, which):
        trends += months.trends()
        changes += _changes(book.steady, months, some, look=np.flatnonzero(~sure[some]))
    told = held.counted.told(which, book.by, book.trade)
    visits = _visits(book, told[0], asked.visits)
    return rows(told, Beside(held.against(which), trends, changes, traffic.start, visits, asked.now))


def _months(traffic: Traffic, held: Standing, which: np.ndarray) -> Iterator[tuple[np.ndarray, Months]]:
    """Some of the places of keys at a time, and their months."""
    counted, sides = held.counted, held.counted.sides
    cars = np.array([traffic.car(car) for car in sides.cars])
    for first in range(0, len(which), _AT_ONCE):
        some = which[first : first + _AT_ONCE]
        own = counted.by_month(some, traffic.start, traffic.months)
        yield some, monthly(own, cars[sides.rows[some]], traffic, hoped=held.hoped[some])


def _changes(steady: Steady, months: Months, some: np.ndarray, *, look: np.ndarray) -> list[Change | None]:
    """Where the rates changed of places of keys; only those to be looked at can have any."""
    found: list[Change | None] = [None] * len(some)
    own = months.counts[look]
    changes, evidence = convincing_changes(own, months.expected[look])
    steady.looked(some[look], own, evidence)
    for at, change in zip(look.tolist(), changes, strict=True):
        found[at] = change
    return found


def _visits(book: Book, keys: Sequence[Mapping[str, str]], visits: Mapping[str, int] | None) -> list[int]:
    """The neutral visits of each key's cars; 0 where they are not recorded so finely."""
    if not visits or not set(book.car) <= {"make", "model"} or "model" not in book.car:
        return [0] * len(keys)
    return [visits.get(key["model"].casefold(), 0) for key in keys]
