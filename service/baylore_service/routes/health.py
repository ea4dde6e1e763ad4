"""Whether the service lives and whether it can answer."""

from __future__ import annotations

from litestar import get
from msgspec import Struct

from baylore_service.desk import readiness
from baylore_service.routes.access import TheHouse


class Health(Struct, frozen=True):
    """How it is."""

    status: str


class Ready(Struct, frozen=True):
    """That it can answer, and what was looked at."""

    status: str
    checks: dict[str, str]


@get("/health/live", sync_to_thread=False, include_in_schema=False, opt={"open": True})
def live() -> Health:
    """The process runs, and its event loop answers."""
    return Health("alive")


@get("/health/ready", sync_to_thread=True, include_in_schema=False, opt={"open": True})
def ready(house: TheHouse) -> Ready:
    """The store takes writes, its schema is the newest, the indexes are loaded. Raises what is in the way."""
    return Ready("ready", readiness.look(house))
