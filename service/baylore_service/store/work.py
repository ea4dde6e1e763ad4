"""One transaction at a time: `Store.read` and `Store.write` give the open work."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from tempfile import NamedTemporaryFile
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, func, make_url, select, update

from baylore_service.errors import StoreFull, StoreTrouble
from baylore_service.store.notices import tell
from baylore_service.store.tables import shops
from baylore_service.store.trouble import answering
from baylore_service.store.turn import Turn

WAIT_MS = 5000
PRAGMAS = ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON")
WRITES = "baylore_writes"
ROOM = 1_000_000


@dataclass(frozen=True, slots=True)
class Work:
    """An open transaction; what was done in it is kept only if it ends without an error."""

    connection: Connection


class Store:
    """The database of all shops, for many threads at once."""

    def __init__(self, url: str, *, pool_size: int = 16, wait_ms: int = WAIT_MS) -> None:
        self.url = url
        self.engine = open_engine(url, pool_size=pool_size, wait_ms=wait_ms)
        self.is_sqlite = self.engine.dialect.name == "sqlite"
        self._turn, self._wait_ms = Turn(wait_ms / 1000), wait_ms
        self.trouble: StoreTrouble | None = None

    def read(self) -> AbstractContextManager[Work]:
        """Work that sees the store as of one moment and must not write."""
        return self._work({} if self.is_sqlite else {"isolation_level": "REPEATABLE READ"})

    @contextmanager
    def write(self, shop_id: str | None = None) -> Iterator[Work]:
        """Work that may write; writers of one shop take turns, so that its change log has no gaps.

        Raises StoreBusy where the turn does not come in time. What kept the last write from being kept is in
        `trouble`, None once one was.
        """
        turn = self._turn.taken() if self.is_sqlite else nullcontext()
        with self._noting(), turn, self._work({WRITES: True}) as work:
            if not self.is_sqlite:
                work.connection.execute(select(func.set_config("lock_timeout", str(self._wait_ms), True)))
            if shop_id is not None:
                work.connection.execute(select(shops.c.id).where(shops.c.id == shop_id).with_for_update())
            yield work
        if shop_id is not None and not self.is_sqlite:
            tell(self.engine, shop_id)

    @contextmanager
    def _noting(self) -> Iterator[None]:
        try:
            yield
            self.trouble = None
        except StoreTrouble as error:
            self.trouble = error
            raise

    @contextmanager
    def _work(self, options: dict[str, Any]) -> Iterator[Work]:
        with answering(), self.engine.connect() as connection:
            connection.execution_options(**options)
            with connection.begin():
                yield Work(connection)

    def ping(self) -> None:
        """Ask the database for an answer. Raises StoreTrouble when it gives none."""
        with self.read() as work:
            work.connection.execute(select(1))

    def probe(self) -> None:
        """Ask the database whether it takes a write. Raises StoreTrouble when it does not.

        Nothing is written, unless the last write failed: then it tries whether there is room again, with a
        file of its own beside a SQLite store, and with a write that changes nothing.
        """
        untouched = update(shops).values(latest=shops.c.latest)
        if self.trouble is None:
            with self._work({}) as work:
                # Without a row it takes no lock, and is refused all the same where nothing may be written.
                work.connection.execute(untouched.where(shops.c.id.is_(None)))
            return
        if self.is_sqlite:
            need_room(Path(self.engine.url.database or ""))
        with self.write() as work:
            first = select(func.min(shops.c.id)).scalar_subquery()
            work.connection.execute(untouched.where(shops.c.id == first))

    def close(self) -> None:
        """Close all connections."""
        self.engine.dispose()


def open_engine(url: str, *, pool_size: int, wait_ms: int = WAIT_MS) -> Engine:
    """The engine of a store; a SQLite file and its folder are made when missing."""
    if make_url(url).get_backend_name() == "sqlite":
        return _sqlite(url, pool_size, wait_ms)
    # A pooler between us and PostgreSQL may hand each transaction another server connection.
    options = {"prepare_threshold": None}
    return create_engine(url, pool_size=pool_size, pool_pre_ping=True, connect_args=options)


def _sqlite(url: str, pool_size: int, wait_ms: int) -> Engine:
    file = make_url(url).database
    if file:
        Path(file).parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        keep_private(Path(file))
    engine = create_engine(url, pool_size=pool_size, pool_timeout=30)
    event.listen(engine, "connect", partial(_prepare, wait_ms))
    event.listen(engine, "begin", _begin)
    return engine


def keep_private(file: Path) -> None:
    """Make the file if missing, readable by its owner alone: it holds the shop's memory."""
    os.close(os.open(file, os.O_RDWR | os.O_CREAT, 0o600))


def need_room(beside: Path) -> None:
    """Raises StoreFull where the disk takes no small file; the journal may hold a short write yet."""
    try:
        with NamedTemporaryFile(dir=beside.parent, prefix=".room-") as file:
            file.write(bytes(ROOM))
            file.flush()
            os.fsync(file.fileno())
    except OSError as error:
        raise StoreFull(error.strerror or str(error)) from error


def _prepare(wait_ms: int, connection: Any, _record: Any) -> None:
    """Leave transactions to us and set what each connection needs."""
    connection.isolation_level = None
    connection.execute(f"PRAGMA busy_timeout={wait_ms}")
    for pragma in PRAGMAS:
        connection.execute(f"PRAGMA {pragma}")


def _begin(connection: Connection) -> None:
    """A writer takes the lock at once: one that first reads would fail without waiting."""
    writes = connection.get_execution_options().get(WRITES, False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
