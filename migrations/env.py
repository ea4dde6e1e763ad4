"""Runs the migrations on the connection that was handed over, or on the store of the settings."""

from __future__ import annotations

from alembic import context
from sqlalchemy import Connection, create_engine

from baylore_service.store.tables import metadata


def run(connection: Connection) -> None:
    """Migrate; SQLite rebuilds tables, during which child rows must not be cascaded away."""
    context.configure(
        connection=connection, target_metadata=metadata, render_as_batch=True, render_item=render_item
    )
    with context.begin_transaction():
        context.run_migrations()


def render_item(kind: str, item: object, autogen_context: object) -> str | bool:
    """A migration must outlive our own column types: write what they are made of."""
    if kind == "type" and type(item).__name__ == "Moment":
        return "sa.DateTime(timezone=True)"
    return False


def main() -> None:
    """Migrate the handed connection; from Alembic's own command line, the store named by `-x url=...`."""
    if (connection := context.config.attributes.get("connection")) is not None:
        run(connection)
        return
    url = context.get_x_argument(as_dictionary=True).get("url")
    if not url:
        raise SystemExit("say which store: alembic -x url=sqlite:///var/baylore/baylore.db upgrade head")
    with create_engine(url).connect() as connection:
        run(connection)
        connection.commit()


main()
