"""What the office reads: cures, money and minutes, the shelf, and what the memory is worth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from baylore_kb.office import (
    Costs,
    CureReport,
    Gaps,
    JobTime,
    Loss,
    Season,
    Shelf,
    Watch,
    cures,
    gaps,
    job_times,
    losses,
    season,
    shelf,
    watch_list,
)
from baylore_kb.score import Score, score
from baylore_service.desk.asking import still_asked
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.desk.terms import terms_of
from baylore_service.store import cases as store_cases
from baylore_service.store.records import Actor


@dataclass(frozen=True, slots=True)
class Office:
    """Cures, losses, diagnosis minutes and gaps of a shop, over all its cases.

    `authors` are those of cases that lack facts, `asked` the cases whose author is asked for some already.
    """

    cures: CureReport
    losses: tuple[Loss, ...]
    times: tuple[JobTime, ...]
    gaps: Gaps
    authors: Mapping[str, str | None]
    asked: frozenset[str]


def watch(house: House, actor: Actor, model: str) -> tuple[Watch, ...]:
    """What this shop keeps finding on a model, for anyone in the bay."""
    snapshot = house.hosts.snapshot(actor.shop.id)
    return watch_list(snapshot.cases.values(), model, snapshot.trade)


def overview(house: House, actor: Actor) -> Office:
    """All that the office reads but what stands out. Raises WrongRole."""
    only_managers(actor, "see money and minutes")
    snapshot = house.hosts.snapshot(actor.shop.id)
    cases, trade = list(snapshot.cases.values()), snapshot.trade
    missing = gaps(cases, trade)
    with house.store.read() as work:
        files = store_cases.get_many(work, actor.shop.id, [one.case for one in missing.missing])
        asked = frozenset(still_asked(work, actor))
    return Office(
        cures(cases, now=house.now(), trade=trade),
        losses(cases, trade=trade, rate_per_hour=actor.shop.rate_per_hour),
        job_times(cases, trade),
        missing,
        {id: file.by for id, file in files.items()},
        asked,
    )


def kept_parts(house: House, actor: Actor, costs: Costs) -> tuple[Shelf, ...]:
    """Parts worth keeping on the shelf. Raises WrongRole."""
    only_managers(actor, "plan the shelf")
    snapshot = house.hosts.snapshot(actor.shop.id)
    return shelf(snapshot.cases.values(), now=house.now(), trade=snapshot.trade, costs=costs)


def coming(house: House, actor: Actor, costs: Costs, *, at: datetime | None = None) -> Season:
    """The season ahead of a time, of now where none is named, and what to have ready. Raises WrongRole."""
    only_managers(actor, "plan the season")
    snapshot = house.hosts.snapshot(actor.shop.id)
    today = (at or house.now()).replace(hour=0, minute=0, second=0, microsecond=0)
    return season(snapshot.cases.values(), now=today, trade=snapshot.trade, costs=costs)


def memory(house: House, actor: Actor, *, most_asked: int) -> Score:
    """How often the memory is right, on at most so many closed cases held out. Raises WrongRole."""
    only_managers(actor, "see how good the memory is")
    mind = house.mind_of(actor)
    return score(
        mind.snapshot, terms=terms_of(actor.shop), tuning=mind.tuning, most_asked=most_asked, most_jobs=0
    )
