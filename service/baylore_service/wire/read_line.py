"""Lines of an import file: a case, a photo, or the shop."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from typing import Any
from uuid import UUID

from msgspec import structs

from baylore_kb import values as kb
from baylore_service.desk.own_arrivals import OwnLines
from baylore_service.desk.stepkinds import OBJECTION, PART, READING, REPAIR, SKIP, TEST, StepKind
from baylore_service.errors import BadValue
from baylore_service.store.records import CaseFile, FollowedUp, Photo, PhotoBlob, Stamp, Taken
from baylore_service.wire import known, read
from baylore_service.wire import transfer as t
from baylore_service.wire.decode import decode
from baylore_service.wire.own_lines import KINDS as OWN_KINDS
from baylore_service.wire.own_lines import Kind, entry_of
from baylore_service.wire.read import Reader

Moved = CaseFile | PhotoBlob | None
Step = t.ReadingLine | t.TestLine | t.PartLine | t.RepairLine | t.SkipLine | t.ObjectionLine
KINDS = "case, photo, shop, own_test, own_cause or test_minutes"


def line_parser(reader: Reader) -> Callable[[bytes], Moved]:
    """What the desk calls for each line. It raises BadValue or MalformedBody."""

    def parse(line: bytes) -> Moved:
        kind = decode(line, Kind).kind
        if kind == "case":
            return case_file(decode(line, t.CaseLine), reader)
        if kind == "photo":
            return photo_blob(decode(line, t.PhotoLine), reader)
        if kind == "shop":
            decode(line, t.ShopLine)
            return None
        if kind in OWN_KINDS:
            return None  # read by `own_lines`, before the cases that name them
        raise BadValue(f"kind: {kind[:40]!r} is not known here", field="kind", remedy=f"use {KINDS}")

    return parse


def own_lines(reader: Reader) -> OwnLines:
    """How the desk reads the own lists of a file, and the other lines against them."""
    return OwnLines(
        entry=lambda line: entry_of(line, reader.now),
        parser=lambda trade: line_parser(replace(reader, trade=trade)),
    )


def case_file(sent: t.CaseLine, reader: Reader) -> CaseFile:
    """A case of a file. Without an id it has "", which the desk replaces by one worked out from the line."""
    now = reader.now
    opened = known.not_in_future(sent.opened, now, field="opened") or now
    closed = known.not_in_future(sent.closed, now, field="closed")
    state = state_of(sent)
    return CaseFile(
        id=_text(sent.id) or "",
        revision=0,
        state=state,
        title=sent.title.strip(),
        opened=opened,
        closed=None if state == "open" else closed or opened,
        updated=known.not_in_future(sent.updated, now, field="updated") or closed or opened,
        complaint_text=read.text_of(sent.complaint, field="complaint"),
        vehicle=reader.vehicle(sent.vehicle),
        symptoms=reader.symptoms(sent.symptoms),
        codes=read.codes(sent.codes),
        comes_and_goes=sent.comes_and_goes,
        shows_when=read.shows_when(sent.shows_when),
        as_typed=sent.as_typed,
        note=sent.note.strip(),
        labour=read.labour(sent.labour),
        cost=cost_of(sent.cost),
        comeback_of=_text(sent.comeback_of),
        returned_as=tuple(str(each) for each in sent.returned_as),
        joined_into=_text(sent.joined_into),
        taken=taken_of(sent.taken),
        joined=tuple(map(str, sent.joined)),
        apart_from=tuple(map(str, sent.apart_from)),
        followed=followed_of(sent.followed, now),
        by=sent.by,
        **_steps(sent, reader, opened=opened),
        **_ending(sent, reader),
    )


def followed_of(sent: t.FollowedLine | None, now: datetime) -> FollowedUp | None:
    """What was heard of the car."""
    if sent is None:
        return None
    return FollowedUp(sent.outcome, known.not_in_future(sent.at, now, field="followed.at") or now, sent.by)


def taken_of(sent: t.TakenLine | None) -> Taken | None:
    """What went over to another record of the visit."""
    if sent is None:
        return None
    ids = {"steps": tuple(map(str, sent.steps)), "photos": tuple(map(str, sent.photos))}
    return Taken(**(structs.asdict(sent) | ids))


def state_of(sent: t.CaseLine) -> kb.CaseState:
    """The state a line says, or the one that follows from what it has."""
    if sent.state:
        return sent.state
    if sent.cause or sent.cause_title:
        return "closed"
    return "unresolved" if sent.unresolved_reason else "open"


def _ending(sent: t.CaseLine, reader: Reader) -> dict[str, Any]:
    """How the case of a line ended. A cause named in words only becomes one of the shop's own."""
    if state_of(sent) == "closed" and not (sent.cause or sent.cause_title):
        known.refuse("a closed case has a cause", field="cause", remedy="name it, or leave the case open")
    if sent.cause_system:
        known.system_of(sent.cause_system, reader.trade, field="cause_system")
    cause = sent.cause or (known.own_cause_id(sent.cause_title) if sent.cause_title.strip() else None)
    return {
        "cause": cause and known.cause_of(cause, reader.trade, field="cause"),
        "cause_title": sent.cause_title.strip() or title_of(cause, reader),
        "cause_system": sent.cause_system or system_of(cause, reader),
        "correction": reader.correction(sent.correction),
        "confirmed_by": sent.confirmed_by and reader.test_id(sent.confirmed_by, field="confirmed_by"),
        "verification": sent.verification.strip(),
        "verified": sent.verified,
        "unresolved_reason": sent.unresolved_reason,
    }


def title_of(cause: str | None, reader: Reader) -> str:
    """The title of a listed cause; empty for any other."""
    found = reader.trade.causes.get(cause or "")
    return found.title if found else ""


def system_of(cause: str | None, reader: Reader) -> str | None:
    """The system of a listed cause; None for any other."""
    found = reader.trade.causes.get(cause or "")
    return found.system if found else None


def _steps(sent: t.CaseLine, reader: Reader, *, opened: datetime) -> dict[str, Any]:
    """The steps of a line; those without a moment happened when the case was opened."""
    reads: tuple[tuple[StepKind, Callable[..., Any]], ...] = (
        (READING, reader.reading),
        (TEST, reader.test),
        (PART, reader.part),
        (REPAIR, reader.repair),
        (SKIP, reader.skip),
        (OBJECTION, reader.objection),
    )

    def step(kind: StepKind, read_one: Callable[..., Any], each: Step, *, field: str) -> Any:
        at = known.not_in_future(each.at, reader.now, field=f"{field}.at")
        stamp = Stamp(_text(each.id) or "", at or opened, each.by)
        return kind.step(stamp, read_one(each, field=field))

    return {
        kind.field: tuple(
            step(kind, read_one, each, field=f"{kind.field}[{at}]")
            for at, each in enumerate(getattr(sent, kind.field))
        )
        for kind, read_one in reads
    }


def cost_of(sent: t.CostLine) -> kb.Cost:
    """Money of a line."""
    return kb.Cost(sent.parts, sent.labour, sent.other, sent.currency)


def photo_blob(sent: t.PhotoLine, reader: Reader) -> PhotoBlob:
    """A photo with its bytes."""
    at = known.not_in_future(sent.at, reader.now, field="at") or reader.now
    photo = Photo(str(sent.id), sent.type, len(sent.data), sent.note.strip(), _text(sent.step), at, sent.by)
    return PhotoBlob(str(sent.case), photo, sent.data)


def _text(id: UUID | None) -> str | None:
    return str(id) if id else None
