"""What a database's refusal means: busy, full, read-only, damaged, away, or not to be used as it is."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, OperationalError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from baylore_service.errors import (
    StoreAway,
    StoreBusy,
    StoreDamaged,
    StoreFull,
    StoreReadOnly,
    StoreTrouble,
)

# Primary result codes of SQLite, the last byte of an extended one (https://sqlite.org/rescode.html).
OF_SQLITE: dict[int, type[StoreTrouble]] = {
    sqlite3.SQLITE_BUSY: StoreBusy,
    sqlite3.SQLITE_LOCKED: StoreBusy,
    sqlite3.SQLITE_READONLY: StoreReadOnly,
    sqlite3.SQLITE_IOERR: StoreFull,
    sqlite3.SQLITE_CORRUPT: StoreDamaged,
    sqlite3.SQLITE_FULL: StoreFull,
    sqlite3.SQLITE_CANTOPEN: StoreAway,
    sqlite3.SQLITE_NOTADB: StoreDamaged,
}
# Error classes and codes of PostgreSQL (its documentation, appendix A), the longest that fits wins.
OF_POSTGRESQL: dict[str, type[StoreTrouble]] = {
    "08": StoreAway,
    "57P": StoreAway,
    "25006": StoreReadOnly,
    "40": StoreBusy,
    "53": StoreBusy,
    "53100": StoreFull,
    "53200": StoreAway,
    "55P03": StoreBusy,
    "57014": StoreBusy,
    "58": StoreFull,
    "42P01": StoreTrouble,
    "42703": StoreTrouble,
    "3F000": StoreTrouble,
    "XX": StoreDamaged,
}


@contextmanager
def answering() -> Iterator[None]:
    """Raises the StoreTrouble that a refusal of the database means; other faults pass through."""
    try:
        yield
    except PoolTimeout as error:
        raise StoreBusy("all connections to the database are in use") from error
    except DBAPIError as error:
        kind = kind_of(error)
        if kind is None:
            raise
        raise kind(str(error.orig or error).strip()) from error


def kind_of(error: DBAPIError) -> type[StoreTrouble] | None:
    """The trouble an error stands for, None where it is none of the store's."""
    code = getattr(error.orig, "sqlite_errorcode", None)
    if code is not None and code & 0xFF in OF_SQLITE:
        return OF_SQLITE[code & 0xFF]
    state = getattr(error.orig, "sqlstate", None) or ""
    fits = [known for known in OF_POSTGRESQL if state.startswith(known)]
    if fits:
        return OF_POSTGRESQL[max(fits, key=len)]
    if not isinstance(error, OperationalError):
        return StoreAway if error.connection_invalidated else None
    # A server that is not there has no code to give.
    return StoreAway if code is None and not state else StoreTrouble
