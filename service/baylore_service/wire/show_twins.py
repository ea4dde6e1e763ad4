"""From records of one visit to what is answered."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import UNSET

from baylore_service.desk.twins import Alike, Closed
from baylore_service.store.records import Taken
from baylore_service.wire import cases as c
from baylore_service.wire import show


def closed(found: Closed) -> c.ClosedCase:
    """A case just closed, with the other records of its visit."""
    fields = {
        name: getattr(case, name) for case in (show.case(found.file),) for name in case.__struct_fields__
    }
    return c.ClosedCase(**fields, alike=tuple(map(alike, found.alike)) or UNSET)


def alike(found: Alike) -> c.AlikeCase:
    """Another record of the same visit."""
    file = found.file
    return c.AlikeCase(
        case=file.id,
        state=file.state,
        title=file.title,
        complaint=file.complaint_text,
        vehicle=show.vehicle(file.vehicle),
        opened=file.opened,
        by=file.by,
        cause_title=file.cause_title,
        steps=len(file.steps),
        photos=len(file.photos),
        alike=round(found.twin.alike, 2),
        exact=found.twin.exact,
        why=found.twin.why,
        remains=found.remains,
        takes=tuple(_takes(found.lacks)),
    )


def _takes(lacks: Taken) -> Iterator[str]:
    """What goes over to the record that remains, in words."""
    counts = (("step", len(lacks.steps)), ("photo", len(lacks.photos)), ("code", len(lacks.codes)))
    yield from (f"{count} {name}{'s' if count > 1 else ''}" for name, count in counts if count)
    if lacks.note:
        yield "the note"
    yield from (name.replace("_", " ") for name in (*lacks.vehicle, *lacks.fields))
