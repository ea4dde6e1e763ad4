"""Messages of alerts: to whom they go, and how often they are tried."""

from __future__ import annotations

import json
import secrets
from collections.abc import Iterable
from datetime import datetime, timedelta
from uuid import NAMESPACE_URL, uuid4, uuid5

from baylore_service.desk import trail
from baylore_service.desk.checks import plain
from baylore_service.desk.doors import MAIL, addresses
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.errors import DeliveryFailed, NotFound, ServiceError
from baylore_service.outward import Reach, mail, post_signed, web_address
from baylore_service.store import deliveries
from baylore_service.store.records import Actor, Shop
from baylore_service.store.records.office import Delivered, Delivery, Hook, KeptAlert
from baylore_service.store.work import Work

MOST_HOOKS = 10
MOST_TRIES = 10
TEST_SAYS = "This is a test: alerts of this shop will come here."
_TITLE, _TROUBLE = 200, 300
# The wait doubles from a minute to half a day.
_LONGEST = timedelta(hours=12)


def post(house: House, work: Work, shop: Shop, raised: Iterable[KeptAlert]) -> None:
    """Put a message of each alert on its way to each address, in the same work: all or none are kept."""
    to, now = addresses(house, work, shop), house.now()
    deliveries.send(work, [_message(shop, one, hook, now) for one in raised for hook in to])


def _message(shop: Shop, kept: KeptAlert, hook_id: str, now: datetime) -> Delivery:
    """A message whose id is the same for the same raising: who hears it twice can tell."""
    id = str(uuid5(NAMESPACE_URL, f"baylore:{shop.id}:{hook_id}:{kept.id}:{kept.raised.isoformat()}"))
    alert = kept.alert
    body = {
        "event": "alert",
        "id": kept.id,
        "shop": shop.name,
        "kind": alert.kind,
        "title": alert.title,
        "says": alert.says,
        "sure": alert.sure,
        "level": alert.level,
        "key": dict(alert.key),
        "figures": dict(alert.figures),
        "raised": kept.raised.isoformat(),
    }
    return Delivery(shop.id, id, hook_id, json.dumps(body, ensure_ascii=False), now, now)


def hooks(house: House, actor: Actor) -> tuple[Hook, ...]:
    """The shop's addresses. Raises WrongRole."""
    only_managers(actor, "see where alerts go")
    with house.store.read() as work:
        return deliveries.hooks_of(work, actor.shop.id)


def add_hook(house: House, actor: Actor, url: str) -> Hook:
    """Have alerts sent to an address; its secret is told once. Raises WrongRole, BadValue."""
    only_managers(actor, "choose where alerts go")
    web_address(url, Reach.of(house.settings))
    hook = Hook(str(uuid4()), url, secrets.token_urlsafe(32), house.now())
    with house.store.write(actor.shop.id) as work:
        if len(deliveries.hooks_of(work, actor.shop.id)) >= MOST_HOOKS:
            plain.refuse(f"{MOST_HOOKS} addresses are the most", field="url", remedy="remove one first")
        deliveries.add_hook(work, actor.shop.id, hook)
        trail.note(house, work, actor, "added", kind="hook", entity=hook.id)
    return hook


def remove_hook(house: House, actor: Actor, hook_id: str) -> None:
    """Send no more alerts to an address. Raises WrongRole, NotFound."""
    only_managers(actor, "choose where alerts go")
    with house.store.write(actor.shop.id) as work:
        if not deliveries.remove_hook(work, actor.shop.id, hook_id):
            raise NotFound("hook", hook_id)
        trail.note(house, work, actor, "removed", kind="hook", entity=hook_id)


def test_hook(house: House, actor: Actor, hook_id: str) -> Delivered:
    """Send a message that says it is a test to an address, at once, and tell what became of it.

    Raises WrongRole, NotFound.
    """
    hook = _hook(house, actor, hook_id)
    now, id = house.now(), str(uuid4())
    body = {"event": "test", "id": id, "shop": actor.shop.name, "title": "A test", "says": TEST_SAYS}
    message = Delivery(actor.shop.id, id, hook.id, json.dumps(body), now, now)
    try:
        post_signed(hook, message, Reach.of(house.settings), at=now)
        ended = _ended(house, message)
    except ServiceError as error:
        ended = _ended(house, message, error.message)
    with house.store.write(actor.shop.id) as work:
        deliveries.keep(work, actor.shop.id, ended)
    return ended


def sent_to(house: House, actor: Actor, hook_id: str) -> tuple[tuple[Delivery, ...], tuple[Delivered, ...]]:
    """Messages to an address that wait, and what became of the last ones. Raises WrongRole, NotFound."""
    hook = _hook(house, actor, hook_id)
    with house.store.read() as work:
        waiting = deliveries.waiting(work, actor.shop.id, hook_id=hook.id)
        return waiting, deliveries.ended_of(work, actor.shop.id, hook.id)


def _hook(house: House, actor: Actor, hook_id: str) -> Hook:
    found = next((hook for hook in hooks(house, actor) if hook.id == hook_id), None)
    if found is None:
        raise NotFound("hook", hook_id)
    return found


def send_due(house: House) -> int:
    """Try each message whose time has come, once; how many were taken."""
    with house.store.read() as work:
        held = deliveries.due(work, house.now())
    return sum(_try(house, each) for each in held)


def _try(house: House, message: Delivery) -> bool:
    with house.store.write() as work:
        if not deliveries.claim(work, message, until=house.now() + wait(message.tries)):
            return False
    try:
        _send(house, message)
    except ServiceError as error:
        _failed(house, message, error.message)
        return False
    with house.store.write() as work:
        deliveries.done(work, message, _ended(house, message))
    return True


def _ended(house: House, message: Delivery, trouble: str = "") -> Delivered:
    """What became of a message after this try; without trouble it was taken."""
    title = str(json.loads(message.body).get("title", ""))[:_TITLE]
    tries = message.tries + 1
    return Delivered(
        message.id, message.hook_id, title, message.made, house.now(), tries=tries, trouble=trouble[:_TROUBLE]
    )


def wait(tries: int) -> timedelta:
    """How long to wait after so many tries."""
    return min(timedelta(minutes=2.0 ** min(tries, 20)), _LONGEST)


def _failed(house: House, message: Delivery, trouble: str) -> None:
    with house.store.write() as work:
        if message.tries + 1 >= MOST_TRIES:
            deliveries.done(work, message, _ended(house, message, trouble))
        else:
            deliveries.fail(work, message, trouble=trouble)


def _send(house: House, message: Delivery) -> None:
    """Raises DeliveryFailed where it is not taken."""
    if message.hook_id == MAIL:
        body = json.loads(message.body)
        mail(house.settings, subject=f"{body['shop']}: {body['title']}", text=body["says"], id=message.id)
        return
    with house.store.read() as work:
        hook = next(
            (one for one in deliveries.hooks_of(work, message.shop_id) if one.id == message.hook_id), None
        )
    if hook is None:
        raise DeliveryFailed("the address is gone", remedy="add it again")
    post_signed(hook, message, Reach.of(house.settings), at=house.now())
