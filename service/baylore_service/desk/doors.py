"""Who may come in was changed: told to the shop's addresses, without names, for somebody to notice."""

from __future__ import annotations

import json
from uuid import uuid4

from baylore_service.desk.house import House
from baylore_service.store import deliveries
from baylore_service.store.records import Shop
from baylore_service.store.records.office import Delivery
from baylore_service.store.work import Work

# The address of a message that goes by mail.
MAIL = ""
LOOK = (
    "Not expected? The shop's screen says who did it, under “Who changed what”; phones are locked out there."
)
TITLES = {
    ("device", "signed in"): "A phone was signed in",
    ("device", "revoked"): "A phone was locked out",
    ("member", "made a manager"): "Somebody was made a manager",
    ("memory", "taken out"): "The whole memory was taken out as a file",
}


def addresses(house: House, work: Work, shop: Shop) -> list[str]:
    """Ids of the hooks that hear of a shop, and the mail's where mail is set."""
    hooks = [hook.id for hook in deliveries.hooks_of(work, shop.id)]
    return hooks + ([MAIL] if house.settings.smtp_host and house.settings.smtp_to else [])


def tell(house: House, work: Work, shop: Shop, done: str, *, kind: str) -> None:
    """Put a message on its way to each address where what was done opens or shuts a door."""
    title = TITLES.get((kind, done))
    if title is None:
        return
    now = house.now()
    body = {"event": "door", "shop": shop.name, "title": title, "says": LOOK, "at": now.isoformat()}
    text = json.dumps(body, ensure_ascii=False)
    to = addresses(house, work, shop)
    deliveries.send(work, [Delivery(shop.id, str(uuid4()), each, text, now, now) for each in to])
