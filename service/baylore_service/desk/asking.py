"""Asking the author of a case for facts it lacks, and what is still asked of whom."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from baylore_kb.office import FACTS, lacks
from baylore_service.desk import files
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.errors import BadValue
from baylore_service.store import asks, cases
from baylore_service.store.records import Actor, CaseFile
from baylore_service.store.records.office import FactAsked
from baylore_service.store.work import Work


@dataclass(frozen=True, slots=True)
class Asked:
    """A case with the facts that are still asked for, the newest question last."""

    file: CaseFile
    facts: tuple[FactAsked, ...]


def ask(house: House, actor: Actor, case_id: str, facts: Iterable[str]) -> tuple[FactAsked, ...]:
    """Ask the author of a closed case for facts, for all it lacks where none is named; all that is asked.

    Asking again changes nothing, but for a fact that was said to be unknown. Raises WrongRole, NotFound, and
    BadValue for a fact that is there or cannot be asked for.
    """
    only_managers(actor, "ask for facts")
    wanted = tuple(dict.fromkeys(facts))
    with house.store.write(actor.shop.id) as work:
        file = files.find(work, actor, case_id)
        missing = lacks(file.as_case())
        _check(wanted, missing)
        kept = {one.fact for one in asks.every(work, actor.shop.id, case_id=case_id) if not one.unknown}
        fresh = [fact for fact in wanted or missing if fact not in kept]
        now, by = house.now(), files.by(actor)
        asks.put(work, actor.shop.id, [FactAsked(file.id, fact, now, by) for fact in fresh])
        return asks.every(work, actor.shop.id, case_id=case_id)


def unknown(house: House, actor: Actor, case_id: str, fact: str) -> tuple[FactAsked, ...]:
    """Say that nobody knows a fact any more; it is asked no more. Raises NotFound, BadValue."""
    with house.store.write(actor.shop.id) as work:
        files.find(work, actor, case_id)
        kept = {one.fact: one for one in asks.every(work, actor.shop.id, case_id=case_id)}
        if fact not in kept:
            raise BadValue(
                f"fact: nobody asked for {fact[:60]!r} here",
                field="fact",
                remedy=f"asked for: {', '.join(kept) or 'nothing'}",
            )
        asks.put(work, actor.shop.id, [replace(kept[fact], unknown=True)])
        return asks.every(work, actor.shop.id, case_id=case_id)


def asked_of(house: House, actor: Actor) -> tuple[Asked, ...]:
    """What the actor is asked for, the newest first; what came in meanwhile is left out."""
    with house.store.read() as work:
        found = still_asked(work, actor)
    mine = [one for one in found.values() if one.file.by == files.by(actor)]
    return tuple(sorted(mine, key=lambda one: (one.facts[-1].at, one.file.id), reverse=True))


def still_asked(work: Work, actor: Actor) -> Mapping[str, Asked]:
    """Cases that still lack a fact that is asked for, by id."""
    waiting: defaultdict[str, list[FactAsked]] = defaultdict(list)
    for one in asks.every(work, actor.shop.id):
        if not one.unknown:
            waiting[one.case_id].append(one)
    found: dict[str, Asked] = {}
    for id, file in cases.get_many(work, actor.shop.id, waiting).items():
        missing = lacks(file.as_case())
        open_facts = tuple(one for one in waiting[id] if one.fact in missing)
        if open_facts:
            found[id] = Asked(file, open_facts)
    return found


def _check(wanted: Iterable[str], missing: Iterable[str]) -> None:
    for fact in wanted:
        if fact not in FACTS:
            raise BadValue(
                f"facts: {fact[:60]!r} cannot be asked for", field="facts", remedy=f"use {', '.join(FACTS)}"
            )
        if fact not in missing:
            raise BadValue(
                f"facts: the case does not lack its {fact}",
                field="facts",
                remedy=f"it lacks: {', '.join(missing) or 'nothing'}",
            )
