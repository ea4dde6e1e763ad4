"""A cursor of the database's own driver: for COPY, and for rows that come as they lie there."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import psycopg
from psycopg.rows import TupleRow
from sqlalchemy.exc import DBAPIError

from baylore_service.store.work import Work


@contextmanager
def driver(work: Work) -> Iterator[psycopg.Cursor[TupleRow]]:
    """A cursor within this work that takes rows in binary. Raises DBAPIError as all statements do."""
    connection = work.connection.connection.driver_connection
    assert isinstance(connection, psycopg.Connection)
    try:
        with connection.cursor(binary=True) as cursor:
            yield cursor
    except psycopg.Error as error:
        raise DBAPIError.instance(None, None, error, psycopg.Error) from error
