"""The links between a case and its comebacks."""

from __future__ import annotations

from dataclasses import replace

from baylore_service.desk import files
from baylore_service.desk.house import House
from baylore_service.store import cases
from baylore_service.store.records import Actor, CaseFile
from baylore_service.store.work import Work


def cut(house: House, work: Work, actor: Actor, file: CaseFile) -> None:
    """Take a case that is about to go out of the cases that point at it."""
    neighbours = (*file.returned_as, *((file.comeback_of,) if file.comeback_of else ()))
    for each in cases.get_many(work, actor.shop.id, neighbours).values():
        files.keep(house, work, actor, without(each, file.id))


def without(file: CaseFile, gone: str) -> CaseFile:
    """The case without a link to the one that is gone."""
    left = tuple(id for id in file.returned_as if id != gone)
    earlier = None if file.comeback_of == gone else file.comeback_of
    return replace(file, returned_as=left, comeback_of=earlier)
