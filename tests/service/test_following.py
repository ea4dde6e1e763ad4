"""The index follows what other processes write; a device that has seen more is told so."""

from __future__ import annotations

import time
from collections.abc import Iterator
from dataclasses import replace

import pytest
from tests.service.app_fixtures import Floor
from tests.service.house_fixtures import a_case

from baylore_service.desk.house import House
from baylore_service.jobs.following import Following
from baylore_service.settings import Settings
from baylore_service.store.records import Actor, CaseFile
from baylore_service.store.work import open_engine

LONG_S, SOON_S = 3600, 1


@pytest.fixture
def other(house: House, request: pytest.FixtureRequest) -> Iterator[House]:
    """Another process's house over the same store, which follows it as often as it is told to."""
    opened = House.open(replace(house.settings, follow_every_s=request.param), clock=house.now)
    following = Following(opened)
    following.start()
    yield opened
    following.stop()
    opened.close()


def caught_up(other: House, shop_id: str, *, to: int) -> bool:
    """Whether the index reaches a change within some seconds, with nobody asking it."""
    until = time.monotonic() + 20
    while time.monotonic() < until and other.hosts.host(shop_id).revision < to:
        time.sleep(0.02)
    return other.hosts.host(shop_id).revision == to


@pytest.mark.parametrize("other", [SOON_S], indirect=True)
def test_an_index_catches_up_without_being_asked(
    house: House, tech: Actor, closed: CaseFile, other: House
) -> None:
    other.hosts.snapshot(tech.shop.id)
    assert caught_up(other, tech.shop.id, to=a_case(house, tech).revision)


@pytest.mark.parametrize("other", [LONG_S], indirect=True)
def test_a_process_is_notified_and_after_a_lost_connection_asks_for_what_it_missed(
    house: House, tech: Actor, other: House
) -> None:
    if house.store.is_sqlite:
        pytest.skip("SQLite notifies nobody: its processes look every few seconds")
    other.hosts.snapshot(tech.shop.id)
    assert caught_up(other, tech.shop.id, to=a_case(house, tech).revision)
    cut_listeners(house.settings)
    assert caught_up(other, tech.shop.id, to=a_case(house, tech).revision)


def cut_listeners(settings: Settings) -> None:
    """End the server side of every connection that listens."""
    engine = open_engine(settings.store_url, pool_size=1)
    with engine.connect() as connection:
        connection.exec_driver_sql(
            "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE starts_with(query, 'LISTEN')"
            " AND datname = current_database()"
        )
    engine.dispose()


def test_a_shop_nobody_asked_for_is_not_read(house: House, tech: Actor, closed: CaseFile) -> None:
    house.hosts.host(tech.shop.id)
    house.hosts.follow()
    assert house.hosts.host(tech.shop.id).revision == -1


def test_a_device_that_has_seen_more_than_the_store_has_is_told_so(floor: Floor) -> None:
    opened = floor.open_case()
    seen = opened["revision"]
    assert floor.get("/cases", headers={"Baylore-Seen": str(seen)}).status_code == 200
    refused = floor.get("/cases", headers={"Baylore-Seen": str(seen + 1)})
    assert (refused.status_code, refused.headers["retry-after"]) == (503, "2")
    assert refused.json()["type"] == "/problems/behind" and str(seen) in refused.json()["detail"]


@pytest.mark.parametrize("odd", ["-1", "1.5", "٣", "9" * 17])
def test_an_odd_revision_is_refused_by_name(floor: Floor, odd: str) -> None:
    refused = floor.get("/cases", headers={"Baylore-Seen": odd.encode()})
    assert refused.status_code == 422 and refused.json()["field"] == "Baylore-Seen"
