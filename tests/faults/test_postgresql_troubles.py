"""PostgreSQL stops, takes no writes, or keeps a writer waiting: told clearly, mended without a restart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from litestar import Litestar
from litestar.testing import TestClient
from tests.postgres import Cluster, cluster
from tests.service.app_fixtures import Floor, people
from tests.service.house_fixtures import POSTGRESQL

from baylore_service.desk.house import House
from baylore_service.routes.metrics import Meter
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

pytestmark = pytest.mark.skipif(not POSTGRESQL, reason="needs PostgreSQL (BAYLORE_TEST_PG)")
HURRIED = {"store_wait_ms": 100}


@pytest.fixture(scope="module")
def server() -> Iterator[Cluster]:
    """A cluster of these tests' own, with a migrated store."""
    with cluster() as made:
        upgrade(Settings(database_url=made.address).store_url)
        yield made


@pytest.fixture
def shop(server: Cluster, client: TestClient[Litestar], tmp_path: Path) -> Iterator[Floor]:
    """The service over that store, with its people."""
    settings = Settings(data=tmp_path, database_url=server.address, **HURRIED)
    server.sql("TRUNCATE shops CASCADE")
    house = House.open(settings)
    people(house)
    house.warm()
    client.app.state.house, client.app.state.meter = house, Meter()
    yield Floor(client, house, replace(settings))
    house.close()


def ready(shop: Floor) -> int:
    """What readiness answers."""
    return shop.client.get("/health/ready").status_code


def test_a_database_that_is_away_is_told_and_used_again_once_it_is_back(shop: Floor, server: Cluster) -> None:
    kept = shop.open_case()
    server.stop()
    answers = [shop.get("/cases"), shop.get("/cases"), shop.client.get("/health/ready")]
    assert {answer.status_code for answer in answers} == {503}
    assert answers[1].json()["type"] == "/problems/store-away" and answers[1].headers["Retry-After"] == "5"
    server.start()
    assert shop.get(f"/cases/{kept['id']}").json() == kept
    assert shop.open_case() and ready(shop) == 200


def test_a_database_that_takes_no_writes_is_read_on(shop: Floor, server: Cluster) -> None:
    kept = shop.open_case()
    server.sql("ALTER DATABASE baylore SET default_transaction_read_only = on")
    shop.house.store.engine.dispose()
    refused = shop.post("/cases", {"complaint": "no crank"})
    assert (refused.status_code, refused.json()["type"]) == (503, "/problems/store-read-only")
    assert shop.get(f"/cases/{kept['id']}").json() == kept and ready(shop) == 503
    with server.connect("postgres") as office:
        office.execute("ALTER DATABASE baylore RESET ALL")
    shop.house.store.engine.dispose()
    assert shop.open_case() and ready(shop) == 200


def test_a_writer_that_is_kept_waiting_is_asked_to_come_again(shop: Floor, server: Cluster) -> None:
    with server.connect() as other:
        other.execute("BEGIN; SELECT id FROM shops FOR UPDATE")
        refused = shop.post("/cases", {"complaint": "no crank"})
        assert shop.get("/cases").status_code == 200
    assert (refused.status_code, refused.json()["type"]) == (503, "/problems/store-busy")
    assert shop.open_case()
