"""A case that was written twice: found, joined, taken apart again, or kept as two."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from baylore_kb.alike import Twin, Visits
from baylore_service.desk import files
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.desk.stepkinds import KINDS
from baylore_service.errors import BadValue
from baylore_service.store.records import Actor, CaseFile, Kept, Receipt
from baylore_service.store.work import Work

_FROM_THE_OTHER = "\n\nFrom the note written beside it: "


def alike(house: House, actor: Actor, case_id: str) -> tuple[Twin, ...]:
    """Other records of the same visit, the most alike first; those kept as two are not asked about again.

    Raises NotFound.
    """
    with house.store.read() as work:
        file = files.find(work, actor, case_id)
    if file.joined_into is not None:
        return ()
    snapshot = house.hosts.snapshot(actor.shop.id)
    found = Visits(snapshot.with_facet(f"model:{file.vehicle.model}")).twins(file.as_case())
    return tuple(each for each in found if each.case.id not in file.apart_from)


def join(
    house: House,
    actor: Actor,
    case_id: str,
    other_id: str,
    *,
    expected_revision: int | None = None,
    receipt: Receipt | None = None,
) -> CaseFile | Kept:
    """Take what the other record has and this one lacks; the other is kept, points here and counts no more.

    `split` undoes it. Raises NotFound, StaleRevision, BadValue for a case with itself or one joined before.
    """

    def act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected_revision)
        other = files.find(work, actor, other_id)
        _refuse_chain(file, other)
        files.keep(house, work, actor, replace(other, joined_into=file.id))
        return files.keep(house, work, actor, _with(file, other))

    return once(house, actor, receipt, act)


def split(
    house: House, actor: Actor, case_id: str, other_id: str, *, receipt: Receipt | None = None
) -> CaseFile | Kept:
    """Make a joined record a case of its own again; what was taken over from it leaves the other.

    Raises NotFound, BadValue for one that is not joined into that case.
    """

    def act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id)
        kept = files.find(work, actor, other_id)
        if file.joined_into != kept.id:
            raise BadValue(
                f"this case is not joined into {kept.id}",
                field="other",
                remedy="read it: joined_into says where",
            )
        files.keep(house, work, actor, _apart(_without(kept, file), file.id))
        return files.keep(house, work, actor, _apart(replace(file, joined_into=None), kept.id))

    return once(house, actor, receipt, act)


def keep_apart(
    house: House, actor: Actor, case_id: str, other_id: str, *, receipt: Receipt | None = None
) -> CaseFile | Kept:
    """Remember that these are two visits. Raises NotFound."""

    def act(work: Work) -> CaseFile:
        file, other = files.find(work, actor, case_id), files.find(work, actor, other_id)
        files.keep(house, work, actor, _apart(other, file.id))
        return files.keep(house, work, actor, _apart(file, other.id))

    return once(house, actor, receipt, act)


def _apart(file: CaseFile, other_id: str) -> CaseFile:
    return replace(file, apart_from=tuple(dict.fromkeys((*file.apart_from, other_id))))


def _refuse_chain(file: CaseFile, other: CaseFile) -> None:
    if file.id == other.id:
        raise BadValue("a case cannot be joined with itself", field="other", remedy="name the other record")
    for each in (file, other):
        if each.joined_into is not None:
            raise BadValue(
                f"case {each.id} was joined into {each.joined_into}",
                field="other",
                remedy="split it first, or join the case it is in",
            )


def _with(file: CaseFile, other: CaseFile) -> CaseFile:
    """The case with what only the other says: steps, codes, symptoms, its note at the end."""
    steps: dict[str, Any] = {}
    for kind in KINDS:
        said = {_says(step) for step in kind.of(file)}
        steps[kind.field] = (*kind.of(file), *(s for s in kind.of(other) if _says(s) not in said))
    note = file.note
    if other.note and other.note not in note:
        note += _FROM_THE_OTHER + other.note
    return replace(
        file,
        **steps,
        codes=tuple(dict.fromkeys((*file.codes, *other.codes))),
        symptoms=tuple(dict.fromkeys((*file.symptoms, *other.symptoms))),
        note=note,
    )


def _without(file: CaseFile, other: CaseFile) -> CaseFile:
    """The case without the other's steps and note; codes and symptoms stay: both may have said them."""
    steps: dict[str, Any] = {}
    for kind in KINDS:
        theirs = {step.stamp.id for step in kind.of(other)}
        steps[kind.field] = tuple(step for step in kind.of(file) if step.stamp.id not in theirs)
    note = file.note.replace(_FROM_THE_OTHER + other.note, "") if other.note else file.note
    return replace(file, **steps, note=note)


def _says(step: Any) -> str:
    """What a step says, whoever wrote it when."""
    return repr(replace(step, stamp=None))
