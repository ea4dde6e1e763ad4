"""A member's name on what they did: changed, or taken off, everywhere at once."""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from baylore_service.desk import files
from baylore_service.desk.house import House
from baylore_service.desk.stepkinds import each_kind
from baylore_service.store import cases, people
from baylore_service.store.records import Actor, CaseFile, FollowedUp, Photo, Stamp, Step
from baylore_service.store.work import Work

S = TypeVar("S", bound=Step)
M = TypeVar("M", Stamp, Photo, FollowedUp)


def rename(house: House, work: Work, actor: Actor, old: str, *, new: str) -> None:
    """Put the new name in the place of the old on all cases; not where two members have the old one."""
    if old == new or any(member.name == old for member in people.every(work, actor.shop.id)):
        return
    for file in list(cases.every(work, actor.shop.id)):
        after = renamed(file, old, new)
        if after != file:
            files.keep_any(house, work, actor, after, updated=file.updated)


def renamed(file: CaseFile, old: str, new: str) -> CaseFile:
    """The case with one name in the place of another."""
    return each_kind(
        file,
        lambda kind, steps: _steps(steps, old, new),
        by=new if file.by == old else file.by,
        followed=_marked(file.followed, old, new) if file.followed else None,
        photos=tuple(_marked(photo, old, new) for photo in file.photos),
    )


def _steps(steps: tuple[S, ...], old: str, new: str) -> tuple[S, ...]:
    return tuple(replace(step, stamp=_marked(step.stamp, old, new)) for step in steps)


def _marked(mark: M, old: str, new: str) -> M:
    return replace(mark, by=new) if mark.by == old else mark
