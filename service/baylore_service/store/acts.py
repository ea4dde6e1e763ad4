"""Who changed what and when: only added to, and forgotten by age."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import delete, insert, select, update

from baylore_service.store.records import Actor
from baylore_service.store.tables import acts, devices, members, shops
from baylore_service.store.work import Work


@dataclass(frozen=True, slots=True)
class Act:
    """One act: on what (`kind` and `entity`), what was done, and the fields it was about.

    Names are those of today: a name taken off is off here too. "" where it was done on the service's machine.
    """

    seq: int
    at: datetime
    member_id: str
    member_name: str
    device_id: str
    device_name: str
    kind: str
    entity: str
    done: str
    fields: str


def note(
    work: Work, by: Actor, kind: str, entity: str, *, done: str, at: datetime, fields: tuple[str, ...] = ()
) -> None:
    """Keep that somebody did something. Each shop counts its own: a number must not tell of other shops."""
    count = update(shops).where(shops.c.id == by.shop.id).values(acts=shops.c.acts + 1)
    seq = work.connection.execute(count.returning(shops.c.acts)).scalar_one()
    row = {"shop_id": by.shop.id, "seq": seq, "at": at, "member_id": by.member.id, "device_id": by.device.id}
    said = {"kind": kind, "entity": entity[:200], "done": done, "fields": ", ".join(fields)[:500]}
    work.connection.execute(insert(acts), row | said)


def before(work: Work, shop_id: str, seq: int | None, *, limit: int) -> tuple[Act, ...]:
    """The acts before a number, of all where there is none, the newest first."""
    names = members.c.name.label("member_name"), devices.c.name.label("device_name")
    joined = acts.outerjoin(members, members.c.id == acts.c.member_id)
    joined = joined.outerjoin(devices, devices.c.id == acts.c.device_id)
    query = select(acts, *names).select_from(joined).where(acts.c.shop_id == shop_id)
    if seq is not None:
        query = query.where(acts.c.seq < seq)
    return tuple(map(_act, work.connection.execute(query.order_by(acts.c.seq.desc()).limit(limit))))


def forget(work: Work, *, before: datetime) -> int:
    """Drop those of before a moment; how many."""
    return work.connection.execute(delete(acts).where(acts.c.at < before)).rowcount


def _act(row: Any) -> Act:
    return Act(
        seq=row.seq,
        at=row.at,
        member_id=row.member_id,
        member_name=row.member_name or "",
        device_id=row.device_id,
        device_name=row.device_name or "",
        kind=row.kind,
        entity=row.entity,
        done=row.done,
        fields=row.fields,
    )
