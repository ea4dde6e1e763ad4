"""What reads much is read from the replica, unless that is behind or away."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from tests.postgres import database, free_port
from tests.service.house_fixtures import KINDS

from baylore_service.settings import Settings
from baylore_service.store.work import Store, Work

if "postgresql" not in KINDS:
    pytest.skip("BAYLORE_TEST_PG names no PostgreSQL", allow_module_level=True)


@pytest.fixture
def replica(postgresql: Settings) -> Iterator[str]:
    """The address of another database, so that one sees which of the two was asked."""
    with database(postgresql.database_url) as address:
        yield Settings(database_url=address).store_url


def asked(store: Store, *, fresh: bool) -> str:
    """The database that was read."""
    with store.read_far(lambda work: fresh) as work:
        return name_of(work)


def name_of(work: Work) -> str:
    """The database of a work."""
    return str(work.connection.exec_driver_sql("SELECT current_database()").scalar_one())


def test_a_replica_is_read_as_long_as_it_is_fresh(postgresql: Settings, replica: str) -> None:
    store = Store(postgresql.store_url, replica_url=replica)
    with store.read() as work:
        primary = name_of(work)
    found = [asked(store, fresh=True), asked(store, fresh=False), asked(store, fresh=True)]
    store.close()
    assert found == [replica.rpartition("/")[2], primary, replica.rpartition("/")[2]] and primary != found[0]


def test_a_replica_that_is_away_is_not_missed(postgresql: Settings) -> None:
    away = f"postgresql+psycopg://baylore@127.0.0.1:{free_port()}/baylore"
    store = Store(postgresql.store_url, replica_url=away)
    assert [asked(store, fresh=True) for _ in range(2)] == [postgresql.store_url.rpartition("/")[2]] * 2
    store.close()


def test_what_fails_while_reading_a_replica_is_told(postgresql: Settings, replica: str) -> None:
    store = Store(postgresql.store_url, replica_url=replica)
    with pytest.raises(ZeroDivisionError), store.read_far(lambda work: True):
        raise ZeroDivisionError
    assert asked(store, fresh=True) == replica.rpartition("/")[2]
    store.close()
