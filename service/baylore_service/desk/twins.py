"""Which other records tell of the same visit as a case, and which of two is to remain."""

from __future__ import annotations

from dataclasses import dataclass

from baylore_kb.alike import DAYS_APART, Twin, twins_among, two_names
from baylore_service.desk import files, taking
from baylore_service.desk.house import House
from baylore_service.desk.joining import remaining
from baylore_service.store import cases, near
from baylore_service.store.records import Actor, CaseFile, Taken
from baylore_service.store.work import Work

MOST_SHOWN = 5


@dataclass(frozen=True, slots=True)
class Alike:
    """Another record of a visit, why it is taken for one, which of the two is to remain and what it lacks."""

    file: CaseFile
    twin: Twin
    remains: str
    lacks: Taken


@dataclass(frozen=True, slots=True)
class Closed:
    """A case just closed, with the other records of its visit."""

    file: CaseFile
    alike: tuple[Alike, ...]


def alike(house: House, actor: Actor, case_id: str) -> tuple[Alike, ...]:
    """Other records of the same visit, the most alike first; those kept as two are not asked about again.

    Raises NotFound.
    """
    with house.store.read() as work:
        return of(work, actor, files.find(work, actor, case_id))


def of(work: Work, actor: Actor, file: CaseFile) -> tuple[Alike, ...]:
    """As `alike`, of a case at hand."""
    if file.joined_into is not None:
        return ()
    near_ids = (
        each.id for each in near.around(work, actor.shop.id, file, days=DAYS_APART) if _may_be(file, each)
    )
    others = {
        id: other
        for id, other in cases.get_many(work, actor.shop.id, near_ids).items()
        if other.joined_into is None and id not in file.apart_from
    }
    found = twins_among(file.as_case(), (other.as_case() for other in others.values()))
    return tuple(_shown(file, others[like.case.id], like) for like in found[:MOST_SHOWN])


def _may_be(file: CaseFile, other: near.Near) -> bool:
    """Whether two cases may be of one car, by its VIN or its names."""
    car = file.vehicle
    return other.same_vin or not (two_names(car.model, other.model) or two_names(car.make, other.make))


def _shown(file: CaseFile, other: CaseFile, like: Twin) -> Alike:
    stays = remaining(file, other)
    goes = other if stays is file else file
    return Alike(other, like, stays.id, taking.lacking(stays, goes))
