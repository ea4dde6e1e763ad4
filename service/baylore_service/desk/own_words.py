"""Words that are right as the shop writes them: never mended, from the next question on."""

from __future__ import annotations

from baylore_kb.tokens import fold
from baylore_service.desk.checks import own as check
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.desk.own_lists import keep
from baylore_service.errors import NotFound, WrongRole
from baylore_service.store import changes, own
from baylore_service.store.records import Actor, Kept, Receipt
from baylore_service.store.records.own import OwnEntry, OwnWord
from baylore_service.store.work import Work


def words(house: House, actor: Actor) -> tuple[OwnWord, ...]:
    """The shop's own words, by the alphabet."""
    with house.store.read() as work:
        values = [entry.value for entry in own.every(work, actor.shop.id)]
    return tuple(sorted((v for v in values if isinstance(v, OwnWord)), key=lambda word: word.id))


def add_word(house: House, actor: Actor, word: str, *, receipt: Receipt | None = None) -> OwnWord | Kept:
    """Keep a word; one that is there already stays as it is. Raises BadValue, KeyReused."""
    named = check.word(OwnWord(word, actor.member.id))

    def act(work: Work) -> OwnWord:
        there = own.get(work, actor.shop.id, "word", named.id)
        if there is not None and isinstance(there.value, OwnWord):
            return there.value
        now = house.now()
        keep(house, work, actor, OwnEntry(named, now, now))
        return named

    return once(house, actor, receipt, act)


def remove_word(house: House, actor: Actor, word: str) -> None:
    """Drop a word: managers any, others their own. Raises NotFound, WrongRole."""
    with house.store.write(actor.shop.id) as work:
        there = own.get(work, actor.shop.id, "word", fold(word))
        if there is None or not isinstance(there.value, OwnWord):
            raise NotFound("word", word)
        if actor.member.role != "manager" and there.value.by != actor.member.id:
            raise WrongRole("this word was added by somebody else", remedy="ask them or a manager to drop it")
        own.remove(work, actor.shop.id, "word", there.value.id)
        changes.append(work, actor.shop.id, "trade", there.value.id, op="delete", at=house.now())
