"""Failures that come back across vehicles, against what a shop could expect."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np
from scipy.special import gammaincinv, pdtrc

from baylore_kb.recurrence.book import Book, check
from baylore_kb.recurrence.cells import Key, Table, tabled
from baylore_kb.recurrence.discovery import adjusted_all
from baylore_kb.recurrence.monthly import Monthly, Traffic, monthly
from baylore_kb.recurrence.notes import notes
from baylore_kb.recurrence.rows import Against, Beside, Recurrence, recurrence
from baylore_kb.recurrence.shrink import CAUTIOUS, ENOUGH_PAIRS, Ratio, fitted
from baylore_kb.recurrence.sightings import counts, utc
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

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
    order = sorted(keys, key=lambda key: (-held.low(key), -book.groups[key].count, key))
    traffic = Traffic(book.months, book.car_months)
    rows = tuple(row_of(book, key, held.get(key), asked, traffic=traffic) for key in order[: asked.limit])
    single = book.single
    said = notes(
        by=book.by,
        single=single,
        incomplete=book.incomplete,
        undated=book.undated if dated else 0,
        visits=bool(asked.visits),
    )
    return Recurrences(book.by, rows, said, single, len(order))


def _wanted(book: Book, only: Mapping[str, str]) -> list[Key]:
    """The keys that have the names asked for; names that are not counted by say nothing."""
    places = [(book.by.index(name), value.casefold()) for name, value in only.items() if name in book.by]
    return [key for key in book.groups if all(key[at].casefold() == value for at, value in places)]


def key_of(book: Book, names: Mapping[str, str]) -> Key | None:
    """The key of names for each thing counted by, case ignored; None where nothing is counted under it."""
    found = _wanted(book, names) if all(name in names for name in book.by) else []
    return next((key for key in found if book.groups[key].count), None)


def row_of(
    book: Book, key: Key, held: Against | None, asked: Asked, *, traffic: Traffic | None = None
) -> Recurrence:
    """One row of a book; `traffic` is the book's, worked out where it is not given."""
    months = months_of(book, key, held, traffic)
    beside = Beside(months, asked.now, _visits(book, key, asked.visits))
    named = dict(zip(book.by, key, strict=True))
    return recurrence(named, book.groups[key], held, beside=beside, trade=book.trade)


def months_of(book: Book, key: Key, held: Against | None, traffic: Traffic | None = None) -> Monthly:
    """The months of a key, against its expected count, else against its own mean."""
    group = book.groups[key]
    total = held.expected if held else float(group.count)
    return monthly(
        group.months, total, traffic or Traffic(book.months, book.car_months), car=book.split(key)[0]
    )


def _visits(book: Book, key: Key, visits: Mapping[str, int] | None) -> int:
    """The neutral visits of a key's cars; 0 where they are not recorded so finely."""
    if not visits or not set(book.car) <= {"make", "model"} or "model" not in book.car:
        return 0
    return visits.get(key[book.by.index("model")].casefold(), 0)


class Standing:
    """How all pairs of a book stand against the expected; keys it does not compare have nothing."""

    def __init__(self, book: Book) -> None:
        self._split = book.split
        self._table = tabled(book.strata.values(), book.cells) if book.compares else None
        if self._table is None or not self._table.rows:
            self._table = None
            return
        self._prior = prior_of(self._table)
        self._tails = _tails(self._table)
        self._shares = adjusted_all(self._tails.ravel()).reshape(self._tails.shape)
        self._low = lows(self._prior, self._table.observed, self._table.expected)
        self._lows: list[list[float]] = self._low.tolist()

    def low(self, key: Key) -> float:
        """The lower 5 % limit of a key's ratio; 0 for one that is not compared."""
        at = self._at(key)
        return 0.0 if at is None else self._lows[at[0]][at[1]]

    def get(self, key: Key) -> Against | None:
        """What a key is held against; None for one that is not compared."""
        at, table = self._at(key), self._table
        if at is None or table is None:
            return None
        n, e = float(table.observed[at]), float(table.expected[at])
        chances = float(self._tails[at]), float(self._shares[at])
        return Against(e, self._prior.after(n, e), float(self._low[at]), *chances)

    def _at(self, key: Key) -> tuple[int, int] | None:
        if self._table is None:
            return None
        car, failure = self._split(key)
        row, column = self._table.rows.get(car), self._table.columns.get(failure)
        return None if row is None or column is None else (row, column)


def _tails(table: Table) -> np.ndarray:
    """The chance of as many or more by luck, for each pair; 1 where none were seen."""
    n, e = table.observed, table.expected
    return np.where(n > 0, pdtrc(np.maximum(n - 1.0, 0.0), np.maximum(e, 1e-300)), 1.0)


def prior_of(table: Table) -> Ratio:
    """The spread of true ratios over a table; cautious under twenty pairs seen."""
    if int((table.observed > 0).sum()) < ENOUGH_PAIRS:
        return CAUTIOUS
    seen = table.expected > 0
    return fitted(table.observed[seen], table.expected[seen])


def lows(prior: Ratio, observed: np.ndarray, expected: np.ndarray) -> np.ndarray:
    """The lower 5 % limits of the ratios, all at once."""
    return np.asarray(gammaincinv(prior.alpha + observed, 0.05) / (prior.beta + expected))
