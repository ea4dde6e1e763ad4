"""Words that are right as the shop writes them, and what they stand for: from the next question on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from baylore_kb.mend import phrase_key
from baylore_service.desk.checks import known
from baylore_service.desk.checks import own as check
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.desk.own_lists import keep
from baylore_service.errors import AlreadyThere, NotFound, WrongRole
from baylore_service.store import changes, own, people
from baylore_service.store.records import Actor, Kept, Receipt
from baylore_service.store.records.own import OwnEntry, OwnWord
from baylore_service.store.work import Work

FIELDS = ("means",)


@dataclass(frozen=True, slots=True)
class ListedWord:
    """A word with the name of who added it, "" not known, and whether the asking member may change it."""

    word: OwnWord
    by: str
    yours: bool


def words(house: House, actor: Actor) -> tuple[ListedWord, ...]:
    """The shop's own words, by the alphabet."""
    with house.store.read() as work:
        values = [entry.value for entry in own.every(work, actor.shop.id)]
        names = {member.id: member.name for member in people.every(work, actor.shop.id)}
    found = sorted((value for value in values if isinstance(value, OwnWord)), key=lambda word: word.id)
    return tuple(_listed(word, actor, names) for word in found)


def add_word(
    house: House, actor: Actor, word: str, *, means: str = "", receipt: Receipt | None = None
) -> ListedWord | Kept:
    """Keep a word; one that is there already stays as it is, whoever added it.

    Raises BadValue, AlreadyThere where it stands for something else, KeyReused.
    """
    named = check.word(OwnWord(word, actor.member.id, means))

    def act(work: Work) -> ListedWord:
        there = own.get(work, actor.shop.id, "word", named.id)
        if there is None or not isinstance(there.value, OwnWord):
            now = house.now()
            keep(house, work, actor, OwnEntry(named, now, now))
            return _told(work, actor, named)
        if named.means not in ("", there.value.means):
            raise AlreadyThere(
                f"the shop has {named.id!r} already, as {there.value.means!r}",
                field="word",
                remedy="change what that one stands for",
            )
        return _told(work, actor, there.value)

    return once(house, actor, receipt, act)


def amend_word(
    house: House, actor: Actor, word: str, changes: Mapping[str, Any], *, receipt: Receipt | None = None
) -> ListedWord | Kept:
    """Change what a word stands for, "" for nothing. Raises NotFound, WrongRole, BadValue, KeyReused."""

    def act(work: Work) -> ListedWord:
        there = _changeable(work, actor, word)
        for field in changes:
            known.listed(field, FIELDS, field=field, what="field")
        named = check.word(replace(_word(there), means=changes.get("means", _word(there).means) or ""))
        keep(house, work, actor, replace(there, value=named, updated=house.now()))
        return _told(work, actor, named)

    return once(house, actor, receipt, act)


def remove_word(house: House, actor: Actor, word: str) -> None:
    """Drop a word: managers any, others their own. Raises NotFound, WrongRole."""
    with house.store.write(actor.shop.id) as work:
        there = _changeable(work, actor, word)
        own.remove(work, actor.shop.id, "word", there.value.id)
        changes.append(work, actor, "trade", there.value.id, op="delete", at=house.now())


def _changeable(work: Work, actor: Actor, word: str) -> OwnEntry:
    there = own.get(work, actor.shop.id, "word", phrase_key(word))
    if there is None:
        raise NotFound("word", word, remedy="see GET /api/trade/words")
    if not _may_change(_word(there), actor):
        raise WrongRole("this word was added by somebody else", remedy="ask them or a manager to change it")
    return there


def _word(entry: OwnEntry) -> OwnWord:
    if not isinstance(entry.value, OwnWord):
        raise NotFound("word", entry.value.id)
    return entry.value


def _may_change(word: OwnWord, actor: Actor) -> bool:
    return actor.member.role == "manager" or word.by == actor.member.id


def _listed(word: OwnWord, actor: Actor, names: Mapping[str, str]) -> ListedWord:
    return ListedWord(word, names.get(word.by, ""), _may_change(word, actor))


def _told(work: Work, actor: Actor, word: OwnWord) -> ListedWord:
    member = people.get(work, actor.shop.id, word.by) if word.by else None
    return _listed(word, actor, {member.id: member.name} if member else {})
