"""Looking for what the manager should hear of, and what is done about it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import datetime
from uuid import NAMESPACE_URL, uuid5

from baylore_kb.alerts import Alert, failing_sources, returning, rising, signals
from baylore_kb.parts import part_outcomes
from baylore_service.desk import messages, trail
from baylore_service.desk.checks import plain
from baylore_service.desk.files import by
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.desk.terms import terms_of
from baylore_service.errors import NotFound
from baylore_service.store import alerts
from baylore_service.store.records import Actor, Shop
from baylore_service.store.records.office import AlertState, KeptAlert
from baylore_service.store.work import Work

WATCHED = (("model", "system"), ("model", "component"))
# An alert that is settled or over comes back when half as many cases again stand behind it, two at least.
_GROWN, _AT_LEAST = 1.5, 2
REASON = 500


def look(house: House, shop: Shop) -> tuple[KeptAlert, ...]:
    """Look at a shop's cases as they are; what is new or came back, with its messages sent."""
    now = house.now()
    found = {alert_id(shop, one): one for one in _found(house, shop, now)}
    with house.store.write(shop.id) as work:
        kept = {one.id: one for one in alerts.every(work, shop.id)}
        fresh = [one for id, alert in found.items() if (one := _raised(kept.get(id), id, alert, now))]
        _follow(work, shop, kept, found, now=now)
        for one in fresh:
            alerts.put(work, shop.id, one)
        messages.post(house, work, shop, fresh)
    return tuple(fresh)


def alert_id(shop: Shop, alert: Alert) -> str:
    """The id of an alert: the same for the same subject."""
    return str(uuid5(NAMESPACE_URL, f"baylore:alert:{shop.id}:{alert.subject}"))


def _found(house: House, shop: Shop, now: datetime) -> Iterator[Alert]:
    month = now.year * 12 + now.month - 1
    for watched in WATCHED:
        with house.books.book(shop.id, watched) as book:
            found = list(signals(book, month))
            found += rising(book, month, besides=[one.subject for one in found])
        yield from found
    snapshot = house.hosts.snapshot(shop.id)
    cases, trade = snapshot.cases.values(), snapshot.trade
    yield from failing_sources(part_outcomes(cases, terms=terms_of(shop), trade=trade), trade)
    yield from returning(cases, trade)


def _raised(kept: KeptAlert | None, id: str, alert: Alert, now: datetime) -> KeptAlert | None:
    """The alert to raise; None where it is open already, or settled or over and has not grown."""
    if kept is None:
        return KeptAlert(id, alert, "open", now, now)
    if kept.state == "open" or not grown(kept, alert):
        return None
    if kept.state == "over":
        return KeptAlert(id, alert, "open", now, now)
    return replace(kept, alert=alert, state="open", raised=now, seen=now)


def grown(kept: KeptAlert, alert: Alert) -> bool:
    """Whether clearly more stands behind an alert than when it was settled, or last seen."""
    before = kept.alert.level if kept.settled_level is None else kept.settled_level
    return alert.level >= max(before * _GROWN, before + _AT_LEAST)


def _follow(
    work: Work, shop: Shop, kept: dict[str, KeptAlert], found: dict[str, Alert], *, now: datetime
) -> None:
    """Note the newest figures of what still holds, and what no longer does; the muted stay muted."""
    for id, one in kept.items():
        if id in found and one.state != "over":
            alerts.put(work, shop.id, replace(one, alert=found[id], seen=now))
        elif one.state in ("open", "acknowledged"):
            alerts.put(work, shop.id, replace(one, state="over"))


def listed(house: House, actor: Actor, states: Iterable[AlertState]) -> tuple[KeptAlert, ...]:
    """The alerts in these states, in all where none is named. Raises WrongRole."""
    only_managers(actor, "see alerts")
    with house.store.read() as work:
        return alerts.every(work, actor.shop.id, states=states)


def settle(house: House, actor: Actor, id: str, state: AlertState, *, reason: str = "") -> KeptAlert:
    """Acknowledge, mute or open an alert.

    Raises WrongRole, NotFound, and BadValue for a mute without reason.
    """
    only_managers(actor, "settle alerts")
    if state == "muted" and not reason.strip():
        plain.refuse("a muted alert needs a reason", field="reason", remedy="say why it need not be heard")
    said = plain.text(reason, most=REASON, field="reason")
    with house.store.write(actor.shop.id) as work:
        kept = alerts.get(work, actor.shop.id, id)
        if kept is None:
            raise NotFound("alert", id)
        settled = state != "open"
        after = replace(
            kept,
            state=state,
            reason=said,
            by=by(actor) if settled else None,
            settled=house.now() if settled else None,
            settled_level=kept.alert.level if settled else None,
        )
        alerts.put(work, actor.shop.id, after)
        trail.note(house, work, actor, state, kind="alert", entity=id)
        return after
