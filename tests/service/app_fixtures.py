"""A running service over a fresh store, with a manager's and a technician's device signed in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from httpx import Response
from litestar import Litestar
from litestar.testing import TestClient

from baylore_service.app import create_app
from baylore_service.desk import members, shops
from baylore_service.desk.house import House
from baylore_service.routes.metrics import Meter
from baylore_service.settings import Settings
from baylore_service.store.records import Member, Role

TOKEN = {
    "manager": "manager-device-token-of-the-tests-0001",
    "technician": "technician-device-token-of-the-tests-01",
    "stranger": "device-token-of-another-shop-of-tests-1",
}
COMPLAINT = "rear washer runs by itself when the heated screen is on"
CAR = {
    "year": 2011,
    "make": "Tarrow",
    "model": "Linnet",
    "engine": "1.6 petrol",
    "odometer": {"value": 141000, "unit": "km"},
}
READING = {
    "quantity": "battery_open_circuit_voltage",
    "value": 12.1,
    "unit": "V",
    "point": "battery posts",
    "conditions": {"temperature": {"value": 20, "unit": "degC"}},
}
TEST = {"test": "fuse_voltage_drop", "outcome": "ok", "minutes": 5}
PART = {"component": "charging.battery", "source": "aftermarket", "price": 80.0}
PNG = bytes.fromhex(
    "89504e470d0a1a0a0000000d4948445200000001000000010806000000"
    "1f15c4890000000d49444154789c6360000002000001e221bc330000000049454e44ae426082"
)


@dataclass(frozen=True)
class Floor:
    """The service and who stands in front of it."""

    client: TestClient[Litestar]
    house: House
    settings: Settings

    def as_(self, who: str, **headers: str) -> dict[str, str]:
        """Headers of a signed-in device."""
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        return {"Authorization": f"Bearer {TOKEN[who]}"} | named

    def ask(self, method: str, path: str, *, who: str = "technician", **options: Any) -> Response:
        """One request of a signed-in device; `headers` are added to its own."""
        headers = self.as_(who) | options.pop("headers", {})
        return self.client.request(method, f"/api{path}", headers=headers, **options)

    def get(self, path: str, **options: Any) -> Response:
        """Read something."""
        return self.ask("GET", path, **options)

    def post(self, path: str, body: Any, **options: Any) -> Response:
        """Send JSON."""
        return self.ask("POST", path, json=body, **options)

    def open_case(self, **fields: Any) -> dict[str, Any]:
        """A new case as it was answered."""
        answer = self.post("/cases", {"complaint": COMPLAINT, "vehicle": CAR} | fields)
        assert answer.status_code == 201, answer.text
        return dict(answer.json())

    def close_case(self, case_id: str, **fields: Any) -> dict[str, Any]:
        """A case closed with a listed cause."""
        ending = {"cause": first_cause(self.house), "correction": "replaced it"} | fields
        answer = self.post(f"/cases/{case_id}/close", ending)
        assert answer.status_code == 200, answer.text
        return dict(answer.json())


def first_cause(house: House) -> str:
    """Any listed cause."""
    return next(iter(house.trade.causes))


@pytest.fixture
def settings(stored: Settings) -> Settings:
    """Settings of a fresh, migrated store of each kind there is."""
    return stored


@pytest.fixture(scope="session")
def client(empty_sqlite: Path) -> Iterator[TestClient[Litestar]]:
    """The wired service, once for all tests; each test gives it a house of its own."""
    app = create_app(Settings(data=empty_sqlite.parent))
    with TestClient(app, raise_server_exceptions=False) as client:
        yield client


@pytest.fixture
def floor(client: TestClient[Litestar], settings: Settings) -> Iterator[Floor]:
    """The service with one shop of two members, and another shop beside it."""
    house = House.open(settings)
    people(house)
    client.app.state.house, client.app.state.meter = house, Meter()
    yield Floor(client, house, settings)
    house.close()


def people(house: House) -> None:
    """Two shops with their members and devices."""
    shop = shops.create_shop(house, name="Corner Garage", currency="EUR")
    other = shops.create_shop(house, name="Other Garage")
    sign_in(house, members.add_member(house, shops.console(shop), name="Mara", role="manager"), "manager")
    sign_in(
        house, members.add_member(house, shops.console(shop), name="Ivo", role="technician"), "technician"
    )
    sign_in(house, members.add_member(house, shops.console(other), name="Nils", role="manager"), "stranger")


def sign_in(house: House, member: Member, who: str) -> None:
    """Give a member the device with the known token."""
    members.issue_token(house, member.id, f"{member.name}'s phone", TOKEN[who])


def new_id() -> str:
    """An id as a phone makes it."""
    return str(uuid4())


def now() -> datetime:
    """The time of day."""
    return datetime.now(UTC)


ROLES: tuple[Role, ...] = ("technician", "manager")
