"""Whether this process can answer: what was looked at, and what is in the way."""

from __future__ import annotations

from baylore_service.desk.house import House
from baylore_service.errors import NotReady
from baylore_service.store import migrate


def look(house: House) -> dict[str, str]:
    """What was looked at, each with `ok`; `verify` tells of the last look at everything.

    Raises StoreTrouble where the store cannot be written, NotReady for anything else that is in the way.
    A verdict of `verify` takes nobody's service away: it is for who keeps the shop's store.
    """
    if house.draining:
        raise NotReady("the service is ending", remedy="ask another process, or ask again soon")
    house.store.probe()
    if not house.schema_is_newest():
        raise NotReady(
            f"the store is not at schema {migrate.head()}", remedy="run baylore migrate", wait_s=30
        )
    if not house.warmed:
        raise NotReady("the indexes are being loaded", remedy="ask again soon")
    return {"store": "ok", "schema": "ok", "indexes": "ok", "verify": house.checkup.said}
