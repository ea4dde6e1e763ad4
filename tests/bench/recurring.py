"""Recurrences over a million cases, beside plain SQL in the same run.

`python -m tests.bench.recurring --cases 1000000` prints ratios: what the first count and a later one after
a few new cases take, against a GROUP BY over a narrow table of the same cases in SQLite.
"""

from __future__ import annotations

import argparse
import gc
import sqlite3
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from itertools import islice

import numpy as np

from baylore_kb.recurrence import Asked, Book, read
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Measure, Vehicle

MODELS, NEW, GOES = 300, 20, 6
# Rows made: as many as the screen asks for, a long list, all there are.
SHOWN = 100, 1000, None
BY = ("model", "system")
START, NOW = datetime(2016, 1, 1, tzinfo=UTC), datetime(2025, 12, 30, tzinfo=UTC)


def main() -> None:
    """Print the figures."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--cases", type=int, default=1_000_000)
    count = asked.parse_args().cases
    every = list(made(count + NEW * GOES * len(SHOWN)))
    cases, news = every[:count], iter(every[count:])
    gc.freeze()
    database = narrow(cases)
    sql = best(lambda: grouped(database), 3)
    book = Book(BY, load())
    gc.disable()  # as the service does while it counts for the first time
    cold, _ = timed(lambda: fill(book, cases))
    gc.enable()
    first, _ = timed(lambda: read(book, Asked(limit=SHOWN[0])))
    same(database, book)
    print(f"{count} cases, {len(book.groups)} pairs; SQL GROUP BY {sql:.2f} s")
    print(f"first count {cold + first:.2f} s: {(cold + first) / sql:.1f} x SQL")
    for rows in SHOWN:
        line(book, database, rows, news)


def line(book: Book, database: sqlite3.Connection, rows: int | None, news: Iterator[Case]) -> None:
    """Print what a list of so many rows takes after a few new cases, other ones each time."""
    after_news(book, rows, news)
    warm, again = best(lambda: after_news(book, rows, news), GOES - 1), best(lambda: grouped(database), 3)
    print(
        f"{rows or 'all'} rows after {NEW} new cases {warm * 1000:.0f} ms: "
        f"SQL GROUP BY {again:.2f} s, {again / warm:.0f} x as long"
    )


def made(count: int) -> Iterator[Case]:
    """Closed cases of three hundred models over ten years."""
    luck, trade = np.random.default_rng(3), load()
    causes = list(trade.causes)
    weights = luck.gamma(1.0, 1.0, len(causes))
    models = luck.choice(MODELS, count, p=_shares(luck.gamma(1.0, 1.0, MODELS)))
    picked = luck.choice(len(causes), count, p=_shares(weights))
    kms, days = luck.integers(5_000, 390_000, count), luck.integers(0, 3650, count)
    vehicles: dict[tuple[int, int], Vehicle] = {}
    for n in range(count):
        place = int(models[n]), int(kms[n]) // 10_000
        if place not in vehicles:
            odometer = Measure(place[1] * 10_000.0, "km")
            vehicles[place] = Vehicle(make="Tarrow", model=f"M{place[0]}", odometer=odometer)
        opened = START + timedelta(days=int(days[n]))
        yield Case(
            f"c{n}",
            Complaint("made up", vehicles[place]),
            state="closed",
            cause=causes[int(picked[n])],
            opened=opened,
            closed=opened,
        )


def _shares(weights: np.ndarray) -> np.ndarray:
    return np.asarray(weights / weights.sum())


def narrow(cases: list[Case]) -> sqlite3.Connection:
    """The same cases as rows of a table that holds nothing else: the kindest case for SQL."""
    trade = load()
    database = sqlite3.connect(":memory:")
    database.execute("CREATE TABLE cases (model TEXT, system TEXT, opened TEXT, band INTEGER, year INTEGER)")
    rows = ((_model(case), trade.causes[case.cause or ""].system, *_when(case)) for case in cases)
    database.executemany("INSERT INTO cases VALUES (?, ?, ?, ?, ?)", rows)
    return database


def _model(case: Case) -> str:
    return f"{case.complaint.vehicle.make} {case.complaint.vehicle.model}"


def _when(case: Case) -> tuple[str, int, int]:
    opened, odometer = case.opened or START, case.complaint.vehicle.odometer
    return opened.isoformat(), int((odometer.value if odometer else 0.0) // 80_000), opened.year


def grouped(database: sqlite3.Connection) -> list[tuple[str, str, int]]:
    """Counts with first and last day by model, system and stratum: what expected counts need of SQL."""
    query = (
        "SELECT model, system, band, year, COUNT(*), MIN(opened), MAX(opened) FROM cases GROUP BY 1, 2, 3, 4"
    )
    return database.execute(query).fetchall()


def fill(book: Book, cases: list[Case]) -> None:
    """Count all cases."""
    book.fill(cases)


def after_news(book: Book, rows: int | None, news: Iterator[Case]) -> None:
    """Take a few cases and read the list, as a screen does after a day's work."""
    for case in islice(news, NEW):
        book.put(case)
    read(book, Asked(limit=rows, now=NOW))


def timed(act: Callable[[], object]) -> tuple[float, object]:
    """Seconds of the processor an act takes, whatever else runs there, and what it gives."""
    begun = time.process_time()
    found = act()
    return time.process_time() - begun, found


def best(act: Callable[[], object], times: int) -> float:
    """The least seconds of a few goes."""
    return min(timed(act)[0] for _ in range(times))


def same(database: sqlite3.Connection, book: Book) -> None:
    """Both count alike."""
    wanted: dict[tuple[str, str], int] = {}
    for model, system, _, _, count, *_ in grouped(database):  # type: ignore[misc]
        wanted[model, system] = wanted.get((model, system), 0) + count
    found = {key: group.count for key, group in book.groups.items()}
    assert found == wanted, "the counts differ"
    print("counts agree")


if __name__ == "__main__":
    main()
