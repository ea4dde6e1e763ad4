"""Backup, restore and the look at everything."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy import delete
from tests.service.house_fixtures import PNG, a_case

from baylore_service.desk import cases, photos, safekeeping
from baylore_service.desk.house import House
from baylore_service.errors import StoreTrouble
from baylore_service.settings import Settings
from baylore_service.store import tables
from baylore_service.store.records import Actor, CaseFile, CaseFilter

pytestmark = pytest.mark.parametrize("stored", ["sqlite"], indirect=True)


def test_a_backup_made_while_writing_goes_on_is_one_whole_file(
    house: House, boss: Actor, tmp_path: Path
) -> None:
    a_case(house, boss)
    with house.store.write(boss.shop.id):
        size = safekeeping.backup(house, tmp_path / "copy.db")
    assert (tmp_path / "copy.db").stat().st_size == size and size > 0
    assert [each.name for each in tmp_path.glob("copy.db*")] == ["copy.db"]
    assert (tmp_path / "copy.db").stat().st_mode & 0o077 == 0


def test_a_restored_backup_is_the_shop_of_that_moment(house: House, boss: Actor, tmp_path: Path) -> None:
    before = a_case(house, boss)
    safekeeping.backup(house, tmp_path / "copy.db")
    a_case(house, boss, "after the copy")
    house.close()
    aside = safekeeping.restore(house.settings, tmp_path / "copy.db")
    again = House.open(house.settings)
    assert cases.list_cases(again, boss, CaseFilter()).items == (before,) and safekeeping.verify(again).good
    assert aside is not None and aside.is_file()
    again.close()


def test_a_backup_is_restored_where_nothing_was(
    house: House, boss: Actor, opened: CaseFile, tmp_path: Path
) -> None:
    safekeeping.backup(house, tmp_path / "copy.db")
    fresh = Settings(data=tmp_path / "elsewhere")
    assert safekeeping.restore(fresh, tmp_path / "copy.db") is None
    again = House.open(fresh)
    assert cases.get_case(again, boss, opened.id) == opened
    again.close()


def test_a_store_in_use_is_not_replaced(house: House, boss: Actor, opened: CaseFile, tmp_path: Path) -> None:
    safekeeping.backup(house, tmp_path / "copy.db")
    with house.store.read() as work:
        cases.files.find(work, boss, opened.id)
        with pytest.raises(StoreTrouble, match="in use") as refused:
            safekeeping.restore(house.settings, tmp_path / "copy.db")
    assert "stop the service" in refused.value.remedy
    assert cases.get_case(house, boss, opened.id) == opened


@pytest.mark.parametrize("content", [b"", b"no database at all", None])
def test_only_a_whole_backup_is_put_in_place(
    house: House, boss: Actor, opened: CaseFile, tmp_path: Path, content: bytes | None
) -> None:
    bad = tmp_path / "bad.db"
    if content is not None:
        bad.write_bytes(content)
    with pytest.raises(StoreTrouble) as refused:
        safekeeping.restore(house.settings, bad)
    assert str(bad) in refused.value.message and cases.get_case(house, boss, opened.id) == opened


def test_a_torn_backup_is_found_out(house: House, boss: Actor, tmp_path: Path) -> None:
    for _ in range(30):
        a_case(house, boss)
    copy = tmp_path / "copy.db"
    safekeeping.backup(house, copy)
    data = bytearray(copy.read_bytes())
    data[len(data) // 2 : len(data) // 2 + 8192] = b"\x5a" * 8192
    copy.write_bytes(data)
    with pytest.raises(StoreTrouble):
        safekeeping.restore(house.settings, copy)


def test_a_backup_of_a_schema_nobody_knows_is_refused(house: House, boss: Actor, tmp_path: Path) -> None:
    safekeeping.backup(house, tmp_path / "copy.db")
    with closing(sqlite3.connect(tmp_path / "copy.db")) as connection, connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    with pytest.raises(StoreTrouble, match="9999"):
        safekeeping.restore(house.settings, tmp_path / "copy.db")


def test_another_kind_of_database_has_tools_of_its_own(house: House, tmp_path: Path) -> None:
    other = House.open(replace(house.settings, database_url="postgresql://nobody@127.0.0.1:1/none"))
    with pytest.raises(StoreTrouble) as refused:
        safekeeping.backup(other, tmp_path / "copy.db")
    assert "pg_dump" in refused.value.remedy
    other.close()


def test_a_look_at_a_shop_that_is_well_finds_nothing(house: House, boss: Actor, closed: CaseFile) -> None:
    photos.add_photo(house, boss, closed.id, type="image/png", data=PNG)
    verdict = safekeeping.verify(house)
    assert verdict.good and len(verdict.checks) == 8


def test_a_photo_without_its_bytes_is_found(house: House, boss: Actor, opened: CaseFile) -> None:
    photos.add_photo(house, boss, opened.id, type="image/png", data=PNG)
    with house.store.write() as work:
        work.connection.execute(delete(tables.photos))
    wrong = [check for check in safekeeping.verify(house).checks if not check.good]
    assert [check.what for check in wrong] == ["Corner Garage: every photo is whole"]


def test_an_index_that_missed_a_change_is_found(house: House, boss: Actor, opened: CaseFile) -> None:
    house.hosts.snapshot(boss.shop.id)
    with house.store.write() as work:
        work.connection.execute(delete(tables.cases))
    wrong = [check.what for check in safekeeping.verify(house).checks if not check.good]
    assert "Corner Garage: the index equals one built anew" in wrong
