"""The schema: from empty to the newest, the same as the tables, and with rows kept."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path

import pytest
import sqlalchemy as sa
from alembic.migration import MigrationContext
from alembic.operations import Operations
from tests.service.house_fixtures import PNG

from baylore_service.desk import cases, members, photos, shops
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.errors import StoreTrouble
from baylore_service.settings import Settings
from baylore_service.store import migrate
from baylore_service.store.records import Actor, CaseFile
from baylore_service.store.work import open_engine

ROOT = Path(__file__).parents[2]


def test_an_empty_store_becomes_the_tables_of_the_code(stored: Settings) -> None:
    engine = open_engine(stored.store_url, pool_size=1)
    assert migrate.is_newest(engine) and migrate.differences(engine) == []
    engine.dispose()


def test_migrating_again_changes_nothing(house: House, boss: Actor, opened: CaseFile) -> None:
    assert migrate.upgrade(house.settings.store_url) == migrate.head()
    assert cases.get_case(house, boss, opened.id) == opened


def test_a_store_goes_down_to_nothing_and_up_again(sqlite: Settings) -> None:
    migrate.downgrade(sqlite.store_url, to="base")
    engine = open_engine(sqlite.store_url, pool_size=1)
    assert sa.inspect(engine).get_table_names() == ["alembic_version"]
    migrate.upgrade(sqlite.store_url)
    assert migrate.differences(engine) == []
    engine.dispose()


def test_rebuilding_a_table_keeps_the_rows_that_hang_on_it(
    house: House, boss: Actor, opened: CaseFile
) -> None:
    """SQLite changes a table by dropping the old one: without care the photos of its cases go too."""
    photos.add_photo(house, boss, opened.id, type="image/png", data=PNG)
    with migrate.migrating(house.settings.store_url) as connection:
        operations = Operations(MigrationContext.configure(connection, opts={"render_as_batch": True}))
        with operations.batch_alter_table("cases") as table:
            table.add_column(sa.Column("bay", sa.String(10)))
        with operations.batch_alter_table("cases") as table:
            table.drop_column("bay")
    assert len(cases.get_case(house, boss, opened.id).photos) == 1 and verify(house).good


def test_a_store_of_before_rights_gets_empty_lists_and_keeps_its_rows(
    house: House, boss: Actor, opened: CaseFile
) -> None:
    url = house.settings.store_url
    migrate.downgrade(url, to="0002")
    migrate.upgrade(url)
    there = members.list_members(house, boss)
    assert {member.name for member in there} == {"Mara", "Ivo"} and {member.rights for member in there} == {
        ()
    }
    assert (shops.get_shop(house, boss).lacks, shops.get_shop(house, boss).rights) == ((), ())
    assert cases.get_case(house, boss, opened.id) == opened


def test_a_store_newer_than_the_code_is_left_alone(sqlite: Settings) -> None:
    engine = open_engine(sqlite.store_url, pool_size=1)
    with engine.begin() as connection:
        connection.execute(sa.text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(StoreTrouble, match="9999") as refused:
        migrate.upgrade(sqlite.store_url)
    assert "newest baylore" in refused.value.remedy
    engine.dispose()


def test_a_store_that_is_behind_is_not_ready(tmp_path: Path) -> None:
    settings = Settings(data=tmp_path)
    house = House.open(settings)
    assert house.schema_is_newest() is False
    migrate.upgrade(settings.store_url)
    assert house.schema_is_newest() is True
    house.close()


def test_the_migrations_know_the_tables_and_nothing_else_of_ours() -> None:
    ours = {
        line.strip()
        for file in (ROOT / "migrations").rglob("*.py")
        for line in file.read_text().splitlines()
        if "baylore" in line and "import" in line
    }
    assert ours == {"from baylore_service.store.tables import metadata"}


def test_an_installed_package_migrates_without_a_checkout(tmp_path: Path) -> None:
    for package in ("service/baylore_service", "kb/baylore_kb"):
        shutil.copytree(
            ROOT / package, tmp_path / Path(package).name, ignore=shutil.ignore_patterns("__pycache__")
        )
    shutil.copytree(ROOT / "migrations", tmp_path / "baylore_service" / "migrations")
    script = "from baylore_service.store import migrate; print(migrate.folder(), migrate.upgrade('sqlite:///s.db'))"
    command = [sys.executable, "-c", script]
    done = subprocess.run(
        command, cwd=tmp_path, env={"PYTHONPATH": str(tmp_path)}, capture_output=True, text=True
    )
    assert done.stdout.split() == [str(tmp_path / "baylore_service" / "migrations"), migrate.head()], (
        done.stderr
    )
