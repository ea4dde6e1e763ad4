"""Finding a case to change and keeping it changed: its row, its line in the change log, its facets."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from uuid import uuid4

from baylore_service.desk.facets import facets_of
from baylore_service.desk.house import House
from baylore_service.errors import JoinedElsewhere, NotFound, StaleRevision
from baylore_service.store import cases, changes, receipts, shared
from baylore_service.store.records import Actor, CaseFile, Stamp
from baylore_service.store.work import Work


def find(work: Work, actor: Actor, case_id: str, *, expected: int | None = None) -> CaseFile:
    """The case of the actor's shop, at the expected revision where one is named.

    Raises NotFound, StaleRevision.
    """
    file = cases.get(work, actor.shop.id, case_id)
    if file is None:
        raise NotFound("case", case_id)
    if expected is not None and expected != file.revision:
        raise StaleRevision(case_id, expected=expected, current=file.revision)
    return file


def keep(
    house: House, work: Work, actor: Actor, file: CaseFile, *, updated: datetime | None = None
) -> CaseFile:
    """Keep a case that a member changed, as `keep_any`. Raises JoinedElsewhere for a record joined away."""
    if file.joined_into is not None:
        raise JoinedElsewhere(file.id, file.joined_into)
    return keep_any(house, work, actor, file, updated=updated)


def keep_any(
    house: House, work: Work, actor: Actor, file: CaseFile, *, updated: datetime | None = None
) -> CaseFile:
    """Keep a changed case; it comes back with its new revision. `updated` comes with one moved in."""
    kept = _logged(house, work, actor, file, updated=updated)
    cases.put(work, actor.shop.id, kept, facets_of(kept, house.trade, house.spotter))
    return kept


def add(
    house: House,
    work: Work,
    actor: Actor,
    file: CaseFile,
    *,
    updated: datetime | None = None,
    origin: str | None = None,
) -> CaseFile:
    """Keep a new case; `updated` and `origin` come with one that is moved in."""
    kept = _logged(house, work, actor, file, updated=updated)
    facets = facets_of(kept, house.trade, house.spotter)
    cases.add(work, actor.shop.id, kept, facets, origin=origin)
    return kept


def _logged(
    house: House, work: Work, actor: Actor, file: CaseFile, *, updated: datetime | None = None
) -> CaseFile:
    now = house.now()
    seq = changes.append(work, actor, "case", file.id, at=now)
    return replace(file, revision=seq, updated=updated or now)


def new_id(given: str | None = None) -> str:
    """The given id, else a new one."""
    return given or str(uuid4())


def stamp(house: House, actor: Actor, step_id: str | None = None) -> Stamp:
    """The stamp of a step that is kept now."""
    return Stamp(new_id(step_id), house.now(), by(actor))


def by(actor: Actor) -> str | None:
    """The name to keep beside what an actor did; the command line has none."""
    return actor.member.name if actor.member.id else None


def log_trade(house: House, work: Work, actor: Actor, id: str) -> None:
    """Log that an entry of the shop's own lists was changed."""
    changes.append(work, actor, "trade", id, at=house.now())


def remove(house: House, work: Work, actor: Actor, case_id: str) -> None:
    """Drop a case, with its words in answers that are kept, and log that it is gone."""
    changes.append(work, actor, "case", case_id, op="delete", at=house.now())
    shared.withdraw(work, actor.shop.id, case_id, at=house.now())
    receipts.blank(work, actor.shop.id, case_id)
    cases.remove(work, actor.shop.id, case_id)
