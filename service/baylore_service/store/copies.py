"""Whole copies of a SQLite store: made while it is in use, checked, put in place."""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from sqlalchemy import make_url

from baylore_service.errors import StoreTrouble
from baylore_service.store.work import keep_private

COMPANIONS = ("-wal", "-shm")


def file_of(url: str) -> Path | None:
    """The file of a SQLite store, None for another kind of database."""
    address = make_url(url)
    return Path(address.database) if address.get_backend_name() == "sqlite" and address.database else None


def copy(source: Path, target: Path) -> None:
    """Copy a store as of one moment into a new file; writers go on meanwhile."""
    keep_private(target)
    with closing(_open(source)) as old, closing(sqlite3.connect(target)) as new:
        old.backup(new)
        # A copy must be one file, whatever is beside it.
        new.execute("PRAGMA journal_mode=DELETE")
    with target.open("rb") as file:
        os.fsync(file.fileno())


def faults(file: Path) -> list[str]:
    """What is wrong with a store's file, in words; empty when it is whole."""
    try:
        with closing(_open(file)) as connection:
            integrity = [row[0] for row in connection.execute("PRAGMA integrity_check(20)")]
            orphans = [f"a row of {row[0]} has lost its {row[2]}" for row in _orphans(connection)]
    except sqlite3.DatabaseError as error:
        return [f"not a SQLite database ({error})"]
    return [line for line in integrity if line != "ok"] + orphans


def revision(file: Path) -> str | None:
    """The schema of a store's file, None where it has none."""
    try:
        with closing(_open(file)) as connection:
            row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
    except sqlite3.DatabaseError:
        return None
    return row and str(row[0])


def move_aside(file: Path) -> Path | None:
    """Give a store another name, its journal with it; None where there is none.

    Raises StoreTrouble where another process has it open for writing.
    """
    if not file.exists():
        return None
    _settle(file)
    aside = file.with_name(f"{file.name}.{datetime.now(UTC):%Y%m%dT%H%M%S%f}.old")
    os.replace(file, aside)
    for companion in COMPANIONS:
        Path(f"{file}{companion}").unlink(missing_ok=True)
    return aside


def _settle(file: Path) -> None:
    """Bring the journal into the file; SQLite leaves it out only while someone else has the store open."""
    try:
        with closing(sqlite3.connect(file, timeout=1)) as connection:
            mode = connection.execute("PRAGMA journal_mode=DELETE").fetchone()[0]
    except sqlite3.OperationalError:
        mode = "locked"
    except sqlite3.DatabaseError:
        return  # no database any more: it is moved as it is
    if mode != "delete":
        raise StoreTrouble(f"{file} is in use", field="path", remedy="stop the service first")


def _open(file: Path) -> sqlite3.Connection:
    return sqlite3.connect(f"{file.resolve().as_uri()}?mode=rw", uri=True)


def _orphans(connection: sqlite3.Connection) -> list[tuple[str, int, str, int]]:
    return connection.execute("PRAGMA foreign_key_check").fetchmany(20)
