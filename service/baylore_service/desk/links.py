"""The links between a case, its comebacks, and the records joined into it."""

from __future__ import annotations

from dataclasses import replace

from baylore_service.desk import files
from baylore_service.desk.house import House
from baylore_service.store import cases
from baylore_service.store.records import Actor, CaseFile
from baylore_service.store.work import Work


def cut(house: House, work: Work, actor: Actor, file: CaseFile) -> None:
    """Take a case that is about to go out of the cases that point at it."""
    linked = (*file.returned_as, file.comeback_of, *file.joined, file.joined_into, *file.apart_from)
    for each in cases.get_many(work, actor.shop.id, filter(None, linked)).values():
        files.keep_any(house, work, actor, without(each, file.id))


def without(file: CaseFile, gone: str) -> CaseFile:
    """The case without a link to the one that is gone; a record joined into that one stands alone again."""
    after = replace(
        file,
        returned_as=_left(file.returned_as, gone),
        comeback_of=None if file.comeback_of == gone else file.comeback_of,
        joined=_left(file.joined, gone),
        apart_from=_left(file.apart_from, gone),
    )
    return replace(after, joined_into=None, taken=None) if file.joined_into == gone else after


def _left(ids: tuple[str, ...], gone: str) -> tuple[str, ...]:
    return tuple(id for id in ids if id != gone)
