"""Share a case with the other shops of this service: seen first, without people, taken back at any time."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, TypeVar

from baylore_kb.match import matches
from baylore_kb.question import understand
from baylore_kb.search import COMPARED
from baylore_kb.values import Complaint, Correction, Cost, Labour, Match
from baylore_service.desk import files, trail
from baylore_service.desk.blanking import VIN_KEPT, Blanked, blanked
from baylore_service.desk.house import House
from baylore_service.errors import BadValue, JoinedElsewhere, NotClosed, NotSharing
from baylore_service.store import people, shared
from baylore_service.store.records import (
    Actor,
    CaseFile,
    PartStep,
    ReadingStep,
    RepairStep,
    Stamp,
    TestStep,
)
from baylore_service.store.shared import Sharing
from baylore_service.store.work import Work

LEAST_CHANCE, MOST_SHOWN = 0.05, 5
S = TypeVar("S", TestStep, ReadingStep, PartStep, RepairStep)


@dataclass(frozen=True, slots=True)
class Taken:
    """Something taken out of a field before sharing."""

    field: str
    blanked: Blanked


@dataclass(frozen=True, slots=True)
class Preview:
    """A case as others would see it, what was taken out of its words, and how it is shared now."""

    case: CaseFile
    taken: tuple[Taken, ...]
    revision: int
    sharing: Sharing | None

    @property
    def changed_since(self) -> bool:
        """Whether the case was changed after what the others see of it."""
        return self.sharing is not None and self.sharing.of_revision != self.revision


def preview(house: House, actor: Actor, case_id: str) -> Preview:
    """What sharing the case would show. Raises NotFound, NotSharing, and what `check_shareable` does."""
    with house.store.read() as work:
        return _preview(work, actor, case_id)


def share(house: House, actor: Actor, case_id: str, *, seen_revision: int | None) -> Preview:
    """Share the case as it was seen at that revision (None: as it is now); shared before, it is renewed.

    Raises NotFound, NotSharing, StaleRevision, and what `check_shareable` does.
    """
    with house.store.write(actor.shop.id) as work:
        seen = _preview(work, actor, case_id, expected=seen_revision)
        made = shared.put(work, actor.shop.id, case_id, seen.case, at=house.now())
        trail.note(house, work, actor, "shared", kind="case", entity=case_id)
        return replace(seen, sharing=made)


def withdraw(house: House, actor: Actor, case_id: str) -> None:
    """Take the case back from all others; one that is not shared stays so. Raises NotFound."""
    with house.store.write(actor.shop.id) as work:
        files.find(work, actor, case_id)
        shared.withdraw(work, actor.shop.id, case_id, at=house.now())
        trail.note(house, work, actor, "taken back", kind="case", entity=case_id)


def elsewhere(
    house: House, actor: Actor, complaint: Complaint, *, limit: int = MOST_SHOWN
) -> tuple[Match, ...]:
    """Like cases of other shops, best first, at most `limit`, none less than 5 % likely the same.

    They move no chance of a cause: what another shop saw is told, not counted. Raises NotSharing.
    """
    _check_sharing(actor)
    pool = house.pool.pool()
    ours = pool.of(actor.shop.id)
    question = understand(complaint, pool.snapshot, leave_out=ours)
    found = pool.snapshot.candidates(question, limit=COMPARED, leave_out=ours)
    likely = (match for match in matches(question, found, pool.snapshot) if match.chance >= LEAST_CHANCE)
    return tuple(likely)[:limit]


def check_shareable(file: CaseFile) -> None:
    """Raises NotClosed, JoinedElsewhere."""
    if file.state == "open":
        raise NotClosed(
            f"case {file.id} is open", field="case", remedy="close it: others need to know what it was"
        )
    if file.joined_into is not None:
        raise JoinedElsewhere(file.id, file.joined_into)


def _check_sharing(actor: Actor) -> None:
    if not actor.shop.shares:
        raise NotSharing(
            "this shop does not share cases",
            field="shares",
            remedy="a manager can switch sharing on for the shop",
        )


def _preview(work: Work, actor: Actor, case_id: str, *, expected: int | None = None) -> Preview:
    file = files.find(work, actor, case_id, expected=expected)
    _check_sharing(actor)
    check_shareable(file)
    names = [member.name for member in people.every(work, actor.shop.id)]
    sharing = shared.find(work, actor.shop.id, case_id)
    case, taken = without_people(file, names=names)
    return Preview(case, taken, file.revision, sharing)


def without_people(file: CaseFile, *, names: list[str]) -> tuple[CaseFile, tuple[Taken, ...]]:
    """The case without prices, notes, photos, names, days and the car's number, and what was taken out.

    Raises BadValue for a cause of the shop's own whose words hold something that must not leave.
    """
    taken: list[Taken] = []

    def clean(field: str, text: str) -> str:
        left, found = blanked(text, names)
        taken.extend(Taken(field, each) for each in found)
        return left

    own = clean("cause", file.cause_title)
    if own != file.cause_title:
        raise BadValue(
            "the cause's words hold a name or a number",
            field="cause",
            remedy="give the shop's own cause words without it, then share",
        )
    month = file.opened.replace(day=1, hour=0, minute=0, second=0, microsecond=0)
    done = file.correction or Correction()
    case = CaseFile(
        id="",
        revision=file.revision,
        state=file.state,
        title=clean("title", file.title),
        opened=month,
        closed=month if file.closed else None,
        updated=month,
        complaint_text=clean("complaint", file.complaint_text),
        vehicle=replace(file.vehicle, vin=file.vehicle.vin and file.vehicle.vin[:VIN_KEPT]),
        symptoms=file.symptoms,
        codes=file.codes,
        comes_and_goes=file.comes_and_goes,
        shows_when=file.shows_when,
        cause=file.cause,
        cause_title=own,
        cause_system=file.cause_system,
        correction=file.correction and replace(done, text=clean("correction", done.text)),
        confirmed_by=file.confirmed_by,
        verification=clean("verification", file.verification),
        verified=file.verified,
        unresolved_reason=file.unresolved_reason,
        labour=Labour(file.labour.diagnosis_min, file.labour.repair_min),
        cost=Cost(),
    )
    return _with_steps(case, file, month=month, clean=clean), tuple(taken)


def _with_steps(
    case: CaseFile, file: CaseFile, *, month: datetime, clean: Callable[[str, str], str]
) -> CaseFile:
    """The case with its steps in their order, without who and when and at what price."""

    def bare(steps: tuple[S, ...], name: str, change: Callable[[Any], Any]) -> tuple[S, ...]:
        return tuple(
            replace(step, stamp=Stamp(str(n), month, None), **{name: change(getattr(step, name))})
            for n, step in enumerate(steps)
        )

    return replace(
        case,
        tests=bare(file.tests, "test", lambda it: replace(it, note=clean("tests", it.note))),
        readings=bare(file.readings, "reading", lambda it: replace(it, point=clean("readings", it.point))),
        parts=bare(file.parts, "part", lambda it: replace(it, price=None, note=clean("parts", it.note))),
        repairs=bare(file.repairs, "repair", lambda it: replace(it, note=clean("repairs", it.note))),
    )
