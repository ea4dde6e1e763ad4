"""The second schema: up with rows in the log, down again without a gap in it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
import sqlalchemy as sa
from sqlalchemy import Engine
from sqlalchemy.exc import IntegrityError

from baylore_service.settings import Settings
from baylore_service.store import migrate
from baylore_service.store.work import open_engine

SHOP = (
    "INSERT INTO shops (id, name, currency, unit_system, rate_per_hour, time_zone, made, latest)"
    " VALUES ('s', 'Corner Garage', 'EUR', 'si', 95.0, 'UTC', '2026-03-11 07:00:00', 2)"
)
CHANGE = (
    "INSERT INTO changes (shop_id, seq, kind, entity, op, at)"
    " VALUES ('s', :seq, :kind, :entity, 'put', '2026-03-11 07:00:00')"
)
LONG = "own." + "a_very_long_name_" * 7


@pytest.fixture
def first(stored: Settings) -> Iterator[Engine]:
    """A store of the first schema with a shop and a line in its log."""
    migrate.downgrade(stored.store_url, to="0001")
    engine = open_engine(stored.store_url, pool_size=1)
    with engine.begin() as connection:
        connection.execute(sa.text(SHOP))
    _log(engine, 1, "shop", "s")
    yield engine
    engine.dispose()


def test_a_store_of_the_first_schema_keeps_its_log(first: Engine, stored: Settings) -> None:
    migrate.upgrade(stored.store_url)
    assert _logged(first) == [(1, "shop", "s")] and migrate.differences(first) == []


def test_the_first_schema_knows_no_change_of_lists(first: Engine) -> None:
    with pytest.raises(IntegrityError):
        _log(first, 2, "trade", "own.test")


def test_the_second_schema_logs_changes_of_lists_with_long_names(first: Engine, stored: Settings) -> None:
    migrate.upgrade(stored.store_url, to="0002")
    _log(first, 2, "trade", LONG)
    assert _logged(first)[1] == (2, "trade", LONG)


def test_going_back_leaves_no_gap_in_the_log(first: Engine, stored: Settings) -> None:
    migrate.upgrade(stored.store_url, to="0002")
    _log(first, 2, "trade", LONG)
    migrate.downgrade(stored.store_url, to="0001")
    assert _logged(first) == [(1, "shop", "s"), (2, "shop", "s")]


def _log(engine: Engine, seq: int, kind: str, entity: str) -> None:
    with engine.begin() as connection:
        connection.execute(sa.text(CHANGE), {"seq": seq, "kind": kind, "entity": entity})


def _logged(engine: Engine) -> list[tuple[int, str, str]]:
    with engine.connect() as connection:
        rows = connection.execute(sa.text("SELECT seq, kind, entity FROM changes ORDER BY seq"))
        return [tuple(row) for row in rows]
