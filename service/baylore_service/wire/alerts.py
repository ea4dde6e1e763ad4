"""Alerts and the addresses that hear of them, as they travel."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from baylore_service.store.records.office import Delivered, Delivery, Hook, KeptAlert
from baylore_service.wire import fields as f
from baylore_service.wire.decode import decode


class Alert(f.Outgoing, frozen=True):
    """Something to look at: what it says, the figures and cases behind it, and what was done about it.

    `sure` tells a controlled discovery from an early hint. `level` counts the cases behind it.
    """

    id: str
    kind: Literal["signal", "trend", "source", "comebacks"]
    state: Literal["open", "acknowledged", "muted", "over"]
    title: str
    says: str
    sure: bool
    level: int
    key: dict[str, str]
    figures: dict[str, float]
    cases: tuple[str, ...]
    raised: datetime
    seen: datetime
    settled: datetime | None
    by: str | None
    reason: str


class Alerts(f.Outgoing, frozen=True):
    """Alerts, the newest first."""

    alerts: tuple[Alert, ...]


class AlertPatch(f.Incoming, frozen=True):
    """What is done about an alert; to mute it needs a reason."""

    state: Literal["open", "acknowledged", "muted"]
    reason: f.ShortText = ""


class NewHook(f.Incoming, frozen=True):
    """An address to send alerts to."""

    url: Annotated[str, Meta(min_length=1, max_length=500, pattern=f.LINE)]


class HookEntry(f.Outgoing, frozen=True):
    """An address that hears of alerts; `secret` is told once, when it is made."""

    id: str
    url: str
    made: datetime
    secret: str | UnsetType = UNSET


class Hooks(f.Outgoing, frozen=True):
    """All addresses that hear of alerts."""

    hooks: tuple[HookEntry, ...]


class Sent(f.Outgoing, frozen=True):
    """A message to an address: still `waiting`, `taken`, or `failed` after its last `trouble`.

    `due` is when a waiting one is tried next, `ended` when another was taken or given up.
    """

    id: str
    title: str
    state: Literal["waiting", "taken", "failed"]
    made: datetime
    due: datetime | None
    ended: datetime | None
    tries: int
    trouble: str


class SentList(f.Outgoing, frozen=True):
    """Messages to an address, those that wait first, then the newest."""

    sent: tuple[Sent, ...]


def waiting(one: Delivery) -> Sent:
    """A message that waits."""
    title = str(decode(one.body.encode(), dict).get("title", ""))
    return Sent(one.id, title, "waiting", one.made, one.due, None, one.tries, one.trouble)


def ended(one: Delivered) -> Sent:
    """A message that was taken or given up."""
    state: Literal["taken", "failed"] = "failed" if one.trouble else "taken"
    return Sent(one.id, one.title, state, one.made, None, one.ended, one.tries, one.trouble)


def alert(kept: KeptAlert) -> Alert:
    """An alert as it is answered."""
    one = kept.alert
    return Alert(
        id=kept.id,
        kind=one.kind,
        state=kept.state,
        title=one.title,
        says=one.says,
        sure=one.sure,
        level=one.level,
        key=dict(one.key),
        figures=dict(one.figures),
        cases=one.cases,
        raised=kept.raised,
        seen=kept.seen,
        settled=kept.settled,
        by=kept.by,
        reason=kept.reason,
    )


def hook(kept: Hook, *, secret: bool = False) -> HookEntry:
    """An address as it is answered."""
    return HookEntry(kept.id, kept.url, kept.made, kept.secret if secret else UNSET)
