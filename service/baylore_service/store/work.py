"""One transaction at a time: `Store.read` and `Store.write` give the open work."""

from __future__ import annotations

import os
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, ExitStack, contextmanager, nullcontext, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Engine, create_engine, event, make_url, select
from sqlalchemy.exc import OperationalError
from sqlalchemy.exc import TimeoutError as PoolTimeout

from baylore_service.errors import StoreTrouble
from baylore_service.store.notices import tell
from baylore_service.store.tables import shops

BUSY_MS = 5000
PRAGMAS = ("journal_mode=WAL", f"busy_timeout={BUSY_MS}", "synchronous=FULL", "foreign_keys=ON")
WRITES = "baylore_writes"
READS: dict[str, Any] = {"isolation_level": "REPEATABLE READ"}
# A host that is gone must not hold up a request that another host can answer.
CONNECT_S = 5
REPLICA_REST_S = 10.0


@dataclass(frozen=True, slots=True)
class Work:
    """An open transaction; what was done in it is kept only if it ends without an error."""

    connection: Connection


class Store:
    """The database of all shops, for many threads at once."""

    def __init__(self, url: str, *, pool_size: int = 16, replica_url: str = "") -> None:
        self.url = url
        self.engine = open_engine(url, pool_size=pool_size)
        self._replica = open_engine(replica_url, pool_size=pool_size) if replica_url else None
        self._replica_due = 0.0
        self.is_sqlite = self.engine.dialect.name == "sqlite"
        # Waiting here is fair and costs nothing; waiting inside SQLite is neither.
        self._turn = threading.Lock() if self.is_sqlite else nullcontext()

    def read(self) -> AbstractContextManager[Work]:
        """Work that sees the store as of one moment and must not write."""
        return _begun(self.engine, {} if self.is_sqlite else READS)

    @contextmanager
    def read_far(self, fresh: Callable[[Work], bool]) -> Iterator[Work]:
        """Work that reads much: on the replica where that answers and is `fresh`, else as `read`."""
        with ExitStack() as stack:
            yield self._on_replica(stack, fresh) or stack.enter_context(self.read())

    def _on_replica(self, stack: ExitStack, fresh: Callable[[Work], bool]) -> Work | None:
        if self._replica is None or time.monotonic() < self._replica_due:
            return None
        # One that is away is left in peace for a while: finding that out may take seconds.
        self._replica_due = time.monotonic() + REPLICA_REST_S
        with suppress(StoreTrouble), ExitStack() as trial:
            work = trial.enter_context(_begun(self._replica, READS))
            self._replica_due = 0.0
            if fresh(work):
                stack.push(trial.pop_all())
                return work
        return None

    @contextmanager
    def write(self, shop_id: str | None = None) -> Iterator[Work]:
        """Work that may write; writers of one shop take turns, so that its change log has no gaps."""
        with self._turn, _begun(self.engine, {WRITES: True}) as work:
            if shop_id is not None:
                work.connection.execute(select(shops.c.id).where(shops.c.id == shop_id).with_for_update())
            yield work
        if shop_id is not None and not self.is_sqlite:
            tell(self.engine, shop_id)

    def ping(self) -> None:
        """Ask the database for an answer. Raises StoreTrouble when it gives none."""
        with self.read() as work:
            work.connection.execute(select(1))

    def close(self) -> None:
        """Close all connections."""
        self.engine.dispose()
        if self._replica is not None:
            self._replica.dispose()


@contextmanager
def _begun(engine: Engine, options: dict[str, Any]) -> Iterator[Work]:
    with _answering(), engine.connect() as connection:
        connection.execution_options(**options)
        with connection.begin():
            yield Work(connection)


@contextmanager
def _answering() -> Iterator[None]:
    """Raises StoreTrouble for a database that is away, busy for too long, full or not migrated."""
    try:
        yield
    except (OperationalError, PoolTimeout) as error:
        reason = str(getattr(error, "orig", None) or error).strip()
        raise StoreTrouble(
            f"the store does not do its work: {reason[:200]}",
            remedy="try again; if it stays, look at the disk and the database, and run baylore migrate",
        ) from error


def open_engine(url: str, *, pool_size: int) -> Engine:
    """The engine of a store; a SQLite file and its folder are made when missing."""
    if make_url(url).get_backend_name() == "sqlite":
        return _sqlite(url, pool_size)
    # A pooler between us and PostgreSQL may hand each transaction another server connection.
    options = {"prepare_threshold": None, "connect_timeout": CONNECT_S}
    return create_engine(url, pool_size=pool_size, pool_pre_ping=True, connect_args=options)


def _sqlite(url: str, pool_size: int) -> Engine:
    file = make_url(url).database
    if file:
        Path(file).parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        keep_private(Path(file))
    engine = create_engine(url, pool_size=pool_size, pool_timeout=30)
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def keep_private(file: Path) -> None:
    """Make the file if missing, readable by its owner alone: it holds the shop's memory."""
    os.close(os.open(file, os.O_RDWR | os.O_CREAT, 0o600))


def _prepare(connection: Any, _record: Any) -> None:
    """Leave transactions to us and set what each connection needs."""
    connection.isolation_level = None
    for pragma in PRAGMAS:
        connection.execute(f"PRAGMA {pragma}")


def _begin(connection: Connection) -> None:
    """A writer takes the lock at once: one that first reads would fail without waiting."""
    writes = connection.get_execution_options().get(WRITES, False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
