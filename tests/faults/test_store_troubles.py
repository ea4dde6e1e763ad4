"""The store refuses: each time a clear answer, and all is well again once the cause is gone."""

from __future__ import annotations

import resource
import sqlite3
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing, contextmanager
from dataclasses import replace
from typing import Any

import pytest
from httpx import Response
from litestar import Litestar
from litestar.testing import TestClient
from sqlalchemy import event
from tests.service.app_fixtures import COMPLAINT, Floor, new_id, people

from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.routes.metrics import Meter
from baylore_service.settings import Settings

Trouble = Callable[[House], Any]


@pytest.fixture
def shop(client: TestClient[Litestar], settings: Settings) -> Iterator[Floor]:
    """The service over a store whose writers do not wait long."""
    house = House.open(replace(settings, store_wait_ms=50))
    people(house)
    house.warm()
    client.app.state.house, client.app.state.meter = house, Meter()
    yield Floor(client, house, settings)
    house.close()


@contextmanager
def every_connection(house: House, pragma: str) -> Iterator[None]:
    """All connections of the store with something set on them."""

    def set_on(connection: Any, _record: Any) -> None:
        connection.execute(f"PRAGMA {pragma}")

    house.store.engine.dispose()
    event.listen(house.store.engine, "connect", set_on)
    yield
    event.remove(house.store.engine, "connect", set_on)
    house.store.engine.dispose()


@contextmanager
def full(house: House) -> Iterator[None]:
    """A disk that takes no more: no file may grow beyond the store's journal."""
    size = (house.settings.data / "baylore.db-wal").stat().st_size
    before, most = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, most))
    yield
    resource.setrlimit(resource.RLIMIT_FSIZE, (before, most))


@contextmanager
def out_of_pages(house: House) -> Iterator[None]:
    """A store that may not grow, and has no room left in it."""
    with closing(file_of(house)) as connection:
        pages = connection.execute("PRAGMA page_count").fetchone()[0]
    with every_connection(house, f"max_page_count={pages}"):
        yield


def read_only(house: House) -> Any:
    """A store that takes no writes."""
    return every_connection(house, "query_only=1")


@contextmanager
def locked(house: House) -> Iterator[None]:
    """Another process's writer that does not come to an end."""
    with closing(file_of(house)) as connection:
        connection.execute("BEGIN IMMEDIATE")
        yield
        connection.execute("ROLLBACK")


def file_of(house: House) -> sqlite3.Connection:
    """The store's file, opened beside the service."""
    return sqlite3.connect(house.settings.data / "baylore.db", isolation_level=None)


def open_big(shop: Floor) -> Response:
    """A case that takes some room."""
    return shop.post("/cases", {"complaint": COMPLAINT, "note": "x" * 3000})


def spoil(house: House) -> None:
    """Overwrite the middle of the store's file, as a dying disk would."""
    with closing(file_of(house)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    house.store.engine.dispose()
    file = house.settings.data / "baylore.db"
    data = bytearray(file.read_bytes())
    data[len(data) // 3 : len(data) * 2 // 3] = b"\x5a" * (len(data) * 2 // 3 - len(data) // 3)
    file.write_bytes(data)


TROUBLES = [
    pytest.param(full, 507, "store-full", "30", id="full"),
    pytest.param(read_only, 503, "store-read-only", "30", id="read-only"),
    pytest.param(locked, 503, "store-busy", "2", id="locked"),
]


@pytest.mark.parametrize(("trouble", "status", "slug", "wait"), TROUBLES)
def test_a_store_that_takes_no_writes_is_told_and_mended_without_a_restart(
    shop: Floor, trouble: Trouble, status: int, slug: str, wait: str
) -> None:
    kept = shop.open_case()
    with trouble(shop.house):
        refused = [open_big(shop) for _ in range(4)][-1]
        read = shop.get(f"/cases/{kept['id']}")
        ready = shop.client.get("/health/ready").status_code
    assert (refused.status_code, refused.json()["type"]) == (status, f"/problems/{slug}")
    assert refused.headers["Retry-After"] == wait and refused.json()["remedy"]
    assert read.json() == kept and ready == status
    assert open_big(shop).status_code == 201 and shop.client.get("/health/ready").status_code == 200


def test_a_store_without_a_free_page_is_full(shop: Floor) -> None:
    with out_of_pages(shop.house):
        refused = [open_big(shop) for _ in range(4)][-1]
    assert (refused.status_code, refused.json()["type"]) == (507, "/problems/store-full")
    assert open_big(shop).status_code == 201


def test_a_write_that_met_a_full_disk_is_done_once_when_it_is_sent_again(shop: Floor) -> None:
    body, key = {"complaint": COMPLAINT, "id": new_id()}, {"Idempotency-Key": "phone-key"}
    with full(shop.house):
        assert shop.post("/cases", body, headers=key).status_code == 507
    first, again = (shop.post("/cases", body, headers=key) for _ in range(2))
    assert (first.status_code, again.headers["Idempotent-Replay"]) == (201, "true")
    assert len(shop.get("/cases").json()["cases"]) == 1 and verify(shop.house).good


def test_while_the_store_is_locked_questions_are_answered_and_writers_do_not_pile_up(shop: Floor) -> None:
    with locked(shop.house), ThreadPoolExecutor(12) as pool:
        writes = [pool.submit(open_big, shop) for _ in range(10)]
        asked = shop.post("/advice", {"complaint": COMPLAINT})
        answers = [write.result() for write in writes]
    assert asked.status_code == 200
    assert {answer.status_code for answer in answers} == {503}


def test_an_act_in_the_service_itself_that_writes_for_too_long_refuses_the_others(shop: Floor) -> None:
    with shop.house.store.write():
        refused = open_big(shop)
    assert (refused.status_code, refused.json()["type"]) == (503, "/problems/store-busy")
    assert open_big(shop).status_code == 201


def test_a_damaged_page_is_told_as_damage_and_found_by_verify(shop: Floor) -> None:
    for _ in range(40):
        open_big(shop)
    spoil(shop.house)
    answers = [shop.get("/cases?limit=100"), shop.get("/export", who="manager")]
    told = [answer for answer in answers if answer.status_code == 503]
    assert told and {answer.json()["type"] for answer in told} == {"/problems/store-damaged"}
    assert "baylore restore" in told[0].json()["remedy"]
    assert not verify(shop.house).good


def test_one_shop_that_cannot_be_read_keeps_no_other_shop_waiting(shop: Floor) -> None:
    case = shop.open_case()["id"]
    with closing(file_of(shop.house)) as connection:
        connection.execute("UPDATE cases SET document = '{\"id\": 7' WHERE id = ?", (case,))
    again = House.open(shop.settings)
    again.warm()
    shop.client.app.state.house = again
    asked = {
        who: shop.post("/advice", {"complaint": COMPLAINT}, who=who) for who in ("technician", "stranger")
    }
    assert asked["stranger"].status_code == 200 and asked["technician"].status_code == 503
    assert asked["technician"].json()["type"] == "/problems/store-damaged"
    wrong = [check.what for check in verify(again).checks if not check.good]
    assert wrong == ["Corner Garage: every case can be read"]
    again.close()
