"""Whether the service lives and whether it can answer."""

from __future__ import annotations

from litestar import get
from msgspec import Struct

from baylore_service.errors import StoreTrouble
from baylore_service.routes.access import TheHouse


class Health(Struct, frozen=True):
    """How it is."""

    status: str


@get("/health/live", sync_to_thread=False, include_in_schema=False, opt={"open": True})
def live() -> Health:
    """The process runs."""
    return Health("alive")


@get("/health/ready", sync_to_thread=True, include_in_schema=False, opt={"open": True})
def ready(house: TheHouse) -> Health:
    """The store answers. Raises StoreTrouble when it does not."""
    if not house.ready():
        raise StoreTrouble("the store does not answer, or is not migrated", remedy="run baylore migrate")
    return Health("ready")
