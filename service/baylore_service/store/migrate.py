"""Bring a store to the newest schema, from a checkout or from an installed wheel."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from alembic import command
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from alembic.util import CommandError
from sqlalchemy import Connection, Engine, func, select

from baylore_service.errors import StoreTrouble
from baylore_service.store.tables import metadata
from baylore_service.store.work import open_engine

PACKAGE = Path(__file__).resolve().parents[1]
# Any number will do, as long as nothing else of ours locks it.
MIGRATING = 0x6261796C6F7265
PLACES = (PACKAGE / "migrations", PACKAGE.parents[1] / "migrations")


def folder() -> Path:
    """Where the migrations lie. Raises StoreTrouble where they are missing."""
    for place in PLACES:
        if (place / "env.py").is_file():
            return place
    raise StoreTrouble("the migrations are missing", remedy=f"install baylore again; looked in {PLACES[0]}")


def upgrade(url: str, *, to: str = "head") -> str:
    """Migrate the store; its revision then. Rows are kept. Raises StoreTrouble for a newer store."""
    with migrating(url) as connection:
        try:
            command.upgrade(_config(connection), to)
        except CommandError as error:
            raise StoreTrouble(
                f"the store cannot be migrated: {error}", remedy="use the newest baylore with this store"
            ) from error
        return current(connection) or ""


def downgrade(url: str, *, to: str) -> None:
    """Take a store back to an older schema; what that has no place for is lost."""
    with migrating(url) as connection:
        command.downgrade(_config(connection), to)


def head() -> str:
    """The revision of the newest schema."""
    return ScriptDirectory.from_config(_config(None)).get_current_head() or ""


def known_revisions() -> frozenset[str]:
    """The revisions of all schemas there have been."""
    return frozenset(each.revision for each in ScriptDirectory.from_config(_config(None)).walk_revisions())


def current(connection: Connection) -> str | None:
    """The revision of a store's schema, None for an empty one."""
    return MigrationContext.configure(connection).get_current_revision()


def is_newest(engine: Engine) -> bool:
    """Whether the schema is the newest."""
    with engine.connect() as connection:
        return current(connection) == head()


def differences(engine: Engine) -> list[object]:
    """How the schema differs from the tables of the code; empty when it does not."""
    with engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        return list(compare_metadata(context, metadata))


def _config(connection: Connection | None) -> Config:
    config = Config()
    config.set_main_option("script_location", str(folder()).replace("%", "%%"))
    config.attributes["connection"] = connection
    return config


@contextmanager
def migrating(url: str) -> Iterator[Connection]:
    """A connection with foreign keys off: SQLite drops and rebuilds tables, which would cascade."""
    engine = open_engine(url, pool_size=1)
    try:
        with engine.connect() as connection:
            if engine.dialect.name == "sqlite":
                _foreign_keys_off(connection)
            with connection.begin():
                _one_at_a_time(connection)
                yield connection
    finally:
        engine.dispose()


def _foreign_keys_off(connection: Connection) -> None:
    """SQLite takes this only outside a transaction; the connection is thrown away afterwards."""
    raw = connection.connection.driver_connection
    if raw is not None:
        raw.execute("PRAGMA foreign_keys=OFF")


def _one_at_a_time(connection: Connection) -> None:
    """Processes that start together migrate one after the other; SQLite has its own lock."""
    if connection.dialect.name == "postgresql":
        connection.execute(select(func.pg_advisory_xact_lock(MIGRATING)))
