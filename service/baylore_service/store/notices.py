"""Word of changes between processes: PostgreSQL's NOTIFY, told after a commit and listened to by a thread.

A word may be lost (a process dies between its commit and the telling, a connection breaks): nothing rests on
it but when an index is caught up. Whoever answers still asks the store for its newest revision.
"""

from __future__ import annotations

from contextlib import suppress

import psycopg
from sqlalchemy import Engine, bindparam, make_url, text
from sqlalchemy.exc import SQLAlchemyError

CHANNEL = "baylore_changes"
# Telling takes a lock that all commits of the database share: after the commit, and without waiting for the
# disk, nobody waits for it.
_TELL = text("SELECT set_config('synchronous_commit', 'off', true), pg_notify(:channel, :shop)").bindparams(
    bindparam("channel", CHANNEL)
)


def tell(engine: Engine, shop_id: str) -> None:
    """Tell all processes that a shop has changed; what cannot be told is found by polling."""
    with suppress(SQLAlchemyError), engine.connect() as connection:
        connection.execution_options(isolation_level="AUTOCOMMIT").execute(_TELL, {"shop": shop_id})


class Listener:
    """Hears which shops changed, on a connection of its own; used by one thread."""

    def __init__(self, url: str) -> None:
        plain = make_url(url).set(drivername="postgresql")
        self._address = plain.render_as_string(hide_password=False)
        self._connection: psycopg.Connection[tuple[object, ...]] | None = None

    def heard(self, timeout_s: float) -> frozenset[str] | None:
        """The shops told of within so many seconds, at the first word at once; None where words may have
        been missed: at the first call and after the connection was lost.
        """
        try:
            if self._connection is None:
                self._connection = self._listening()
                return None
            told = self._connection.notifies(timeout=timeout_s, stop_after=1)
            return frozenset(each.payload for each in told)
        except psycopg.OperationalError:
            self.close()
            return None

    def _listening(self) -> psycopg.Connection[tuple[object, ...]]:
        connection = psycopg.connect(
            self._address, autocommit=True, prepare_threshold=None, connect_timeout=5
        )
        connection.execute(f"LISTEN {CHANNEL}".encode())
        return connection

    def close(self) -> None:
        """Stop listening; a later `heard` begins anew."""
        if self._connection is not None:
            with suppress(psycopg.Error):
                self._connection.close()
            self._connection = None
