"""Two full shops, made once and copied as often as a test needs its own: as a file, or as a database."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Protocol

from litestar import Litestar
from litestar.testing import TestClient
from tests.postgres import database
from tests.security.filled import Side, fill, two_shops
from tests.service.app_fixtures import Floor

from baylore_service.desk.house import House
from baylore_service.routes.metrics import Meter
from baylore_service.settings import Settings
from baylore_service.store import copies
from baylore_service.store.migrate import upgrade

Client = TestClient[Litestar]


class Copies(Protocol):
    """Gives the settings of a copy of its own, gone afterwards; `folder` is there and empty."""

    def __call__(self, folder: Path) -> AbstractContextManager[Settings]: ...


@dataclass(frozen=True)
class Shelf:
    """What both shops have, and copies of the store that holds it."""

    sides: dict[str, Side]
    copy: Copies


class opened:  # noqa: N801  reads as a word where it is used
    """The service in front of a store, for a while."""

    def __init__(self, client: Client, settings: Settings) -> None:
        self.floor = Floor(client, House.open(settings), settings)

    def __enter__(self) -> Floor:
        self.show(self.floor)
        return self.floor

    @staticmethod
    def show(floor: Floor) -> None:
        """Put its house behind the client."""
        floor.client.app.state.house, floor.client.app.state.meter = floor.house, Meter()

    def __exit__(self, *_: object) -> None:
        self.floor.house.close()


def filled_with(client: Client, settings: Settings) -> dict[str, Side]:
    """Both shops filled in a store without any; the store is closed again."""
    with opened(client, settings) as floor:
        sides = two_shops(floor.house)
        for side in sides.values():
            fill(floor, side)
    return sides


@contextmanager
def in_a_file(client: Client, folder: Path) -> Iterator[Shelf]:
    """The shelf over SQLite; `folder` holds an empty, migrated store."""
    sides = filled_with(client, Settings(data=folder))
    copies.copy(folder / "baylore.db", folder / "full.db")

    @contextmanager
    def copy(into: Path) -> Iterator[Settings]:
        shutil.copy(folder / "full.db", into / "baylore.db")
        yield Settings(data=into)

    yield Shelf(sides, copy)


@contextmanager
def in_a_database(client: Client, folder: Path, server: str) -> Iterator[Shelf]:
    """The shelf over PostgreSQL: copies are made from the filled database, which nobody may be using then."""
    with database(server) as address:
        full = Settings(database_url=address, data=folder)
        upgrade(full.store_url)
        sides = filled_with(client, full)
        name = address.rpartition("/")[2].partition("?")[0]

        @contextmanager
        def copy(into: Path) -> Iterator[Settings]:
            with database(server, template=name) as copied:
                yield Settings(database_url=copied, data=into)

        yield Shelf(sides, copy)
