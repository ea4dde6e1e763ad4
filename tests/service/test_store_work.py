"""One transaction at a time: all of it is kept, or nothing."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from sqlalchemy import text
from tests.service.house_fixtures import MORNING

from baylore_service.desk.house import House
from baylore_service.errors import StoreTrouble
from baylore_service.store import changes, shops
from baylore_service.store.records import Actor, Shop
from baylore_service.store.work import Store

SHOP = Shop("s1", "Shop", "EUR", "si", 95.0, "UTC")


def test_a_write_that_fails_leaves_nothing(house: House) -> None:
    with pytest.raises(RuntimeError), house.store.write() as work:
        shops.add(work, SHOP, at=MORNING)
        raise RuntimeError
    with house.store.read() as work:
        assert shops.get(work, SHOP.id) is None


def test_a_reader_sees_one_moment(house: House, boss: Actor) -> None:
    with house.store.read() as reading:
        before = changes.latest(reading, boss.shop.id)
        with house.store.write(boss.shop.id) as writing:
            changes.append(writing, boss, "shop", boss.shop.id, at=MORNING)
        assert changes.latest(reading, boss.shop.id) == before
    with house.store.read() as work:
        assert changes.latest(work, boss.shop.id) == before + 1


def test_writers_at_once_wait_for_their_turn(house: House, boss: Actor) -> None:
    def append(_: int) -> int:
        with house.store.write(boss.shop.id) as work:
            changes.latest(work, boss.shop.id)
            return changes.append(work, boss, "shop", boss.shop.id, at=MORNING)

    with ThreadPoolExecutor(4) as pool:
        numbers = sorted(pool.map(append, range(40)))
    assert numbers == list(range(numbers[0], numbers[0] + 40))


def test_a_sqlite_store_is_opened_to_lose_nothing(tmp_path: Path) -> None:
    store = Store(f"sqlite:///{tmp_path / 'deep' / 'new.db'}")
    names = ("journal_mode", "synchronous", "foreign_keys", "busy_timeout")
    with store.read() as work:
        found = [work.connection.execute(text(f"PRAGMA {name}")).scalar() for name in names]
    assert found == ["wal", 2, 1, 5000]
    assert (tmp_path / "deep" / "new.db").stat().st_mode & 0o077 == 0


def test_a_store_that_is_not_migrated_says_what_to_do(tmp_path: Path) -> None:
    with (
        pytest.raises(StoreTrouble, match="no such table") as refused,
        Store(f"sqlite:///{tmp_path / 'new.db'}").read() as work,
    ):
        shops.every(work)
    assert "baylore migrate" in refused.value.remedy


def test_a_database_that_is_away_is_trouble_of_the_store_not_an_accident() -> None:
    away = Store("postgresql+psycopg://nobody@127.0.0.1:1/none")
    with pytest.raises(StoreTrouble), away.read():
        pass
    away.close()
