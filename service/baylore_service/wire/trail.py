"""Who changed what, as it travels."""

from __future__ import annotations

from datetime import datetime

from baylore_service.store.acts import Act
from baylore_service.wire import fields as f


class TrailEntry(f.Outgoing, frozen=True):
    """One act; `member` and `device` are "" where it was done on the service's own machine.

    `fields` names what was changed, never to what.
    """

    seq: int
    at: datetime
    member: str
    name: str
    device: str
    device_name: str
    kind: str
    entity: str
    done: str
    fields: str


class Trail(f.Outgoing, frozen=True):
    """Acts, the newest first; `next` is the `before` of the next page, null on the last."""

    acts: tuple[TrailEntry, ...]
    next: int | None


def trail(found: tuple[Act, ...], *, limit: int) -> Trail:
    """A page as it is answered."""
    return Trail(tuple(map(_entry, found)), found[-1].seq if len(found) == limit else None)


def _entry(act: Act) -> TrailEntry:
    return TrailEntry(
        seq=act.seq,
        at=act.at,
        member=act.member_id,
        name=act.member_name,
        device=act.device_id,
        device_name=act.device_name,
        kind=act.kind,
        entity=act.entity,
        done=act.done,
        fields=act.fields,
    )
