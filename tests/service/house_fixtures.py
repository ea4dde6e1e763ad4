"""A house over a fresh store with two shops, on SQLite and, where an address is given, on PostgreSQL too."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import psycopg
import pytest
from tests.postgres import database

from baylore_kb.values import Correction, PartTried, Reading, TestDone, Vehicle
from baylore_service.desk import cases, close, members, shops
from baylore_service.desk.house import House
from baylore_service.desk.twins import Closed
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade
from baylore_service.store.records import Actor, CaseDraft, CaseFile, Closing, Receipt, Role
from baylore_service.store.tables import metadata

__all__ = [
    "boss",
    "clock",
    "closed",
    "emptied_postgresql",
    "empty_sqlite",
    "house",
    "join",
    "migrated_postgresql",
    "opened",
    "postgresql",
    "sqlite",
    "stored",
    "stranger",
    "tech",
]
POSTGRESQL = os.environ.get("BAYLORE_TEST_PG", "")
KINDS = ("sqlite", "postgresql") if POSTGRESQL else ("sqlite",)
MORNING = datetime(2026, 3, 11, 7, 0, tzinfo=UTC)
LINNET = Vehicle(2011, "Tarrow", "Linnet", "1.6 petrol")
CAUSE = "starting.ground_cable.high_resistance"
CRANKING = Reading("crank_v", 12.3, "V", "battery posts")
DROP = TestDone("crank_drop_neg", "high", minutes=4)
CABLE = PartTried("starting.ground_cable", "own stock", "cured", 18.0)
AFTER = Reading("drop_neg", 0.12, "V", "block to negative post", "after")
NEW_CABLE = Correction("replace", "starting.ground_cable", "new cable")
PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c489"
    "0000000d49444154789c6360000002000001e221bc330000000049454e44ae426082"
)


class Clock:
    """A clock that goes on by a second with each look, so that orders are certain."""

    def __init__(self) -> None:
        self.time = MORNING

    def __call__(self) -> datetime:
        self.time += timedelta(seconds=1)
        return self.time

    def wait(self, **spans: float) -> None:
        """Let time pass."""
        self.time += timedelta(**spans)


@pytest.fixture
def clock() -> Clock:
    """The time of day of the tests."""
    return Clock()


@pytest.fixture(scope="session")
def empty_sqlite(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated store without a shop, to be copied."""
    settings = Settings(data=tmp_path_factory.mktemp("store"))
    upgrade(settings.store_url)
    return settings.data / "baylore.db"


@pytest.fixture
def sqlite(empty_sqlite: Path, tmp_path: Path) -> Settings:
    """Settings of a fresh store in a file."""
    shutil.copy(empty_sqlite, tmp_path / "baylore.db")
    return Settings(data=tmp_path)


@pytest.fixture(scope="session")
def migrated_postgresql() -> Iterator[str]:
    """The address of a migrated database without a shop, beside the one named by BAYLORE_TEST_PG."""
    with database(POSTGRESQL) as address:
        upgrade(Settings(database_url=address).store_url)
        yield address


@pytest.fixture(scope="session")
def emptied_postgresql(migrated_postgresql: str) -> Iterator[Callable[[], str]]:
    """Takes all rows of that database away, one table after the other; gives its address."""
    emptied = [table.name for table in reversed(metadata.sorted_tables) if table.name != "pools"]
    # The pool's one row comes with the schema.
    rows = "; ".join([*(f"DELETE FROM {name}" for name in emptied), "UPDATE pools SET latest = 0"])
    with psycopg.connect(migrated_postgresql, autocommit=True) as connection:

        def empty() -> str:
            connection.execute(rows.encode())
            return migrated_postgresql

        yield empty


@pytest.fixture
def postgresql(emptied_postgresql: Callable[[], str], tmp_path: Path) -> Settings:
    """Settings of a database without a shop; whoever changes its schema needs one of their own."""
    return Settings(database_url=emptied_postgresql(), data=tmp_path)


@pytest.fixture(params=KINDS)
def stored(request: pytest.FixtureRequest) -> Settings:
    """Settings of a fresh store of each kind there is."""
    found: Settings = request.getfixturevalue(request.param)
    return found


@pytest.fixture
def house(stored: Settings, clock: Clock) -> Iterator[House]:
    """The wired desk."""
    opened = House.open(stored, clock=clock)
    yield opened
    opened.close()


@pytest.fixture
def join(house: House) -> Callable[..., Actor]:
    """Makes a member of a shop with a device."""

    def make(shop_id: str, role: Role, name: str, *, skill: int = 3) -> Actor:
        shop = next(each for each in shops.list_shops(house) if each.id == shop_id)
        member = members.add_member(house, shops.console(shop), name=name, role=role, skill=skill)
        return members.who(house, members.issue_token(house, member.id, f"phone of {name}"))

    return make


@pytest.fixture
def boss(house: House, join: Callable[..., Actor]) -> Actor:
    """The manager of the shop."""
    return join(shops.create_shop(house, name="Corner Garage", currency="EUR").id, "manager", "Mara")


@pytest.fixture
def tech(boss: Actor, join: Callable[..., Actor]) -> Actor:
    """A technician of the same shop."""
    return join(boss.shop.id, "technician", "Ivo")


@pytest.fixture
def stranger(house: House, join: Callable[..., Actor]) -> Actor:
    """The manager of another shop."""
    return join(shops.create_shop(house, name="Other Garage").id, "manager", "Nils")


@pytest.fixture
def opened(house: House, tech: Actor) -> CaseFile:
    """An open case."""
    return a_case(house, tech)


@pytest.fixture
def closed(house: House, tech: Actor, opened: CaseFile) -> CaseFile:
    """A closed case."""
    return a_file(close.close_case(house, tech, opened.id, Closing(cause=CAUSE, correction=NEW_CABLE)))


def a_case(house: House, actor: Actor, words: str = "one click and nothing", **fields: object) -> CaseFile:
    """A new case of a Linnet."""
    return a_file(cases.open_case(house, actor, CaseDraft(words, **{"vehicle": LINNET} | fields)))  # type: ignore[arg-type]


def a_file(result: object) -> CaseFile:
    """The case of an act without a key."""
    file = result.file if isinstance(result, Closed) else result
    assert isinstance(file, CaseFile)
    return file


def render(result: object) -> bytes:
    """An answer in the tests' own form."""
    file = a_file(result)
    return json.dumps([file.id, file.revision, file.state]).encode()


def keyed(key: str, digest: str = "same") -> Receipt:
    """What to keep of a request."""
    return Receipt(key, digest, render)
