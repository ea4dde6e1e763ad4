"""Failures that come back across vehicles, against what a shop could expect."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from baylore_kb.recurrence.book import Book, check
from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.monthly import Monthly, Months, Traffic, monthly
from baylore_kb.recurrence.notes import notes
from baylore_kb.recurrence.rows import Beside, Recurrence, recurrence
from baylore_kb.recurrence.sightings import counts, utc
from baylore_kb.recurrence.standing import Standing
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

# So many rows are worked out at once that their months stay in the processor's cache.
_AT_ONCE = 256
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
    keys = [
        key for key in _wanted(book, asked.only or {}) if book.groups[key].count >= max(1, asked.min_cases)
    ]
    held = Standing(book)
    order = held.surest(keys, [book.groups[key].count for key in keys])
    shown, rows = order[: asked.limit], list[Recurrence]()
    traffic = Traffic(book.months, book.car_months)
    for first in range(0, len(shown), _AT_ONCE):
        rows += _rows(book, shown[first : first + _AT_ONCE], asked, held=held, traffic=traffic)[0]
    single = book.single
    said = notes(
        by=book.by,
        single=single,
        incomplete=book.incomplete,
        undated=book.undated if dated else 0,
        visits=bool(asked.visits),
    )
    return Recurrences(book.by, tuple(rows), said, single, len(order))


def _wanted(book: Book, only: Mapping[str, str]) -> list[Key]:
    """The keys that have the names asked for; names that are not counted by say nothing."""
    places = [(book.by.index(name), value.casefold()) for name, value in only.items() if name in book.by]
    if not places:
        return list(book.groups)
    return [key for key in book.groups if all(key[at].casefold() == value for at, value in places)]


def key_of(book: Book, names: Mapping[str, str]) -> Key | None:
    """The key of names for each thing counted by, case ignored; None where nothing is counted under it."""
    found = _wanted(book, names) if all(name in names for name in book.by) else []
    return next((key for key in found if book.groups[key].count), None)


def row_by_month(book: Book, key: Key, asked: Asked) -> tuple[Recurrence, Monthly]:
    """One row of a book with its months, against its expected count, else against its own mean."""
    traffic = Traffic(book.months, book.car_months)
    (row,), months = _rows(book, [key], asked, held=Standing(book), traffic=traffic)
    return row, months.one(0)


def _rows(
    book: Book, keys: Sequence[Key], asked: Asked, *, held: Standing, traffic: Traffic
) -> tuple[list[Recurrence], Months]:
    """The rows of keys and, in step, their months."""
    groups, pairs = [book.groups[key] for key in keys], [book.split(key) for key in keys]
    against = held.against(pairs)
    totals = [one.expected if one else float(group.count) for one, group in zip(against, groups, strict=True)]
    months = monthly(groups, totals, traffic, [car for car, _ in pairs])
    each = zip(keys, groups, against, months.trends(), months.changes(), strict=True)
    rows = [
        recurrence(
            dict(zip(book.by, key, strict=True)),
            group,
            one,
            beside=Beside(trend, change, months.start, asked.now, _visits(book, key, asked.visits)),
            trade=book.trade,
        )
        for key, group, one, trend, change in each
    ]
    return rows, months


def _visits(book: Book, key: Key, visits: Mapping[str, int] | None) -> int:
    """The neutral visits of a key's cars; 0 where they are not recorded so finely."""
    if not visits or not set(book.car) <= {"make", "model"} or "model" not in book.car:
        return 0
    return visits.get(key[book.by.index("model")].casefold(), 0)
