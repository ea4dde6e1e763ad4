"""A member leaves: their phones are out, their name comes off everything, and the cases stay."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from functools import partial
from typing import Any, TypeVar

from baylore_service.desk import files, trail
from baylore_service.desk.checks import plain
from baylore_service.desk.house import House
from baylore_service.desk.members import amend_in
from baylore_service.desk.roles import only_managers
from baylore_service.errors import NotFound
from baylore_service.store import alerts, cases, devices, own, people, receipts
from baylore_service.store.records import Actor, CaseFile, Member
from baylore_service.store.work import Work

NOBODY = "former member"
# Where people write what they like; `by` holds a name and nothing else.
TEXTS = frozenset({"title", "complaint_text", "verification", "note", "text", "cause_title", "reason"})
MOST_ALSO, SHOWN = 10, 60
V = TypeVar("V")
Change = Callable[[str, str], str]


@dataclass(frozen=True, slots=True)
class Found:
    """A text of a case that names the member."""

    case: str
    field: str
    text: str


@dataclass(frozen=True, slots=True)
class Left:
    """The member as they are kept, how many cases carried the name, and the first 60 texts that held it."""

    member: Member
    cases: int
    found: tuple[Found, ...]


def leave(
    house: House,
    actor: Actor,
    member_id: str,
    *,
    also: tuple[str, ...] = (),
    in_texts: bool = True,
    preview: bool = False,
) -> Left:
    """Take a member's phones and name away; with `preview` nothing is changed and only told.

    The name is replaced wherever it marks who did something; with `in_texts` also, as a whole word, in what
    was written, together with the other words of `also`. Kept answers to phones are changed alike. A name
    that another member has too stays: nobody can tell whose it is.
    Raises WrongRole, NotFound, LastManager, BadValue.
    """
    only_managers(actor, "let a member go")
    words = plain.names(also, most=MOST_ALSO, field="also")
    with house.store.write(actor.shop.id) as work:
        member = people.get(work, actor.shop.id, member_id)
        if member is None:
            raise NotFound("member", member_id)
        change = _change(member, people.every(work, actor.shop.id), words if in_texts else None)
        every = ((file, mapped(file, change)) for file in cases.every(work, actor.shop.id))
        touched = [(file, after) for file, after in every if after != file]
        found = tuple(each for before, after in touched for each in _found(before, after))[:SHOWN]
        if preview:
            return Left(member, len(touched), found)
        return Left(_gone(house, work, actor, member, touched=touched, change=change), len(touched), found)


def _gone(
    house: House,
    work: Work,
    actor: Actor,
    member: Member,
    *,
    touched: list[tuple[CaseFile, CaseFile]],
    change: Change,
) -> Member:
    kept = replace(amend_in(house, work, actor, member.id, changes={"active": False}), name=NOBODY)
    people.put(work, actor.shop.id, kept)
    devices.leave(work, member.id, name=NOBODY)
    for before, after in touched:
        files.keep_any(house, work, actor, after, updated=before.updated)
    for alert in alerts.every(work, actor.shop.id):
        alerts.put(work, actor.shop.id, mapped(alert, change))
    for entry in own.every(work, actor.shop.id):
        if (after_entry := mapped(entry, change)) != entry:
            own.put(work, actor.shop.id, after_entry)
            files.log_trade(house, work, actor, entry.value.id)
    receipts.rewrite(work, actor.shop.id, change)
    trail.note(house, work, actor, "left", kind="member", entity=member.id)
    return kept


def _change(member: Member, everybody: tuple[Member, ...], also: tuple[str, ...] | None) -> Change:
    """What becomes of a text; `also` is None where what was written stays."""
    shared = any(each.name == member.name and each.id != member.id for each in everybody)
    names = () if shared else (member.name,)
    words = _pattern(() if also is None else (*names, *also))
    return partial(_unnamed, name="" if shared else member.name, words=words)


def _pattern(words: tuple[str, ...]) -> re.Pattern[str] | None:
    """Any of the words, whole; None for none."""
    each = "|".join(re.escape(word) for word in sorted(words, key=len, reverse=True))
    return re.compile(rf"(?<!\w)(?:{each})(?!\w)", re.IGNORECASE) if words else None


def _unnamed(field: str, text: str, *, name: str, words: re.Pattern[str] | None) -> str:
    """A text of this field without the name."""
    if field == "by":
        return NOBODY if text == name else text
    return words.sub(NOBODY, text) if words and field in TEXTS else text


def mapped(value: V, change: Change, field: str = "") -> V:
    """A value with every text of it changed, each told with its field; the value itself where nothing is."""
    found: Any = value
    if isinstance(found, str):
        return change(field, found)  # type: ignore[return-value]
    if isinstance(found, tuple):
        return tuple(mapped(each, change, field) for each in found)  # type: ignore[return-value]
    if not is_dataclass(found) or isinstance(found, type):
        return value
    after = {each.name: mapped(getattr(found, each.name), change, each.name) for each in fields(found)}
    changed = {name: each for name, each in after.items() if each != getattr(found, name)}
    return replace(found, **changed) if changed else value  # type: ignore[return-value]


def _found(before: object, after: object, *, case: str = "", field: str = "") -> Iterator[Found]:
    """The texts, marks of who did something aside, in which two values differ."""
    case = case or getattr(before, "id", "")
    if isinstance(before, str):
        if before != after and field != "by":
            yield Found(case, field, before)
    elif isinstance(before, tuple) and isinstance(after, tuple):
        for one, other in zip(before, after, strict=True):
            yield from _found(one, other, case=case, field=field)
    elif is_dataclass(before):
        for each in fields(before):
            one, other = getattr(before, each.name), getattr(after, each.name)
            yield from _found(one, other, case=case, field=each.name)
