"""Steps of a case: tests, readings and parts, added, mended and undone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any, TypeVar

from baylore_kb.values import PartTried, Reading, TestDone
from baylore_service.desk import files
from baylore_service.desk.checks import values
from baylore_service.desk.checks.file import MOST_STEPS
from baylore_service.desk.checks.plain import refuse
from baylore_service.desk.house import House
from baylore_service.desk.money import summed
from baylore_service.desk.once import once
from baylore_service.errors import AlreadyThere, NotFound
from baylore_service.store import photos
from baylore_service.store.records import (
    Actor,
    CaseFile,
    Kept,
    PartStep,
    ReadingStep,
    Receipt,
    Step,
    TestStep,
)
from baylore_service.store.work import Work

PART_FIELDS = ("result", "note", "charged", "price")
S = TypeVar("S", bound=Step)


def add_test(
    house: House,
    actor: Actor,
    case_id: str,
    step: TestDone,
    *,
    step_id: str | None = None,
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> CaseFile | Kept:
    """Keep a test. The same id and content again changes nothing; other content raises AlreadyThere."""
    values.test(step, house.trade)
    made = TestStep(files.stamp(house, actor, step_id), step)
    return _added(house, actor, case_id, made, receipt=receipt, expected=expected_revision)


def add_reading(
    house: House,
    actor: Actor,
    case_id: str,
    step: Reading,
    *,
    step_id: str | None = None,
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> CaseFile | Kept:
    """Keep a reading; implausible values are kept too."""
    values.reading(step, house.trade)
    made = ReadingStep(files.stamp(house, actor, step_id), step)
    return _added(house, actor, case_id, made, receipt=receipt, expected=expected_revision)


def add_part(
    house: House,
    actor: Actor,
    case_id: str,
    step: PartTried,
    *,
    step_id: str | None = None,
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> CaseFile | Kept:
    """Keep a part that was fitted."""
    values.part(step, house.trade)
    made = PartStep(files.stamp(house, actor, step_id), step)
    return _added(house, actor, case_id, made, receipt=receipt, expected=expected_revision)


def amend_part(
    house: House,
    actor: Actor,
    case_id: str,
    step_id: str,
    *,
    changes: Mapping[str, object],
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> CaseFile | Kept:
    """Change result, note, charged or price of a part, keyed by PartTried field; the sums follow."""
    for name in changes:
        if name not in PART_FIELDS:
            refuse("cannot be changed here", field=name, remedy=f"change {', '.join(PART_FIELDS)}")

    def _act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected_revision)
        parts = tuple(_mended(step, step_id, changes, house) for step in file.parts)
        if step_id not in {step.stamp.id for step in file.parts}:
            raise NotFound("part", step_id, remedy="read the case for the ids of its parts")
        after = summed(replace(file, parts=parts))
        return file if after == file else files.keep(house, work, actor, after)

    return once(house, actor, receipt, _act)


def remove_step(
    house: House,
    actor: Actor,
    case_id: str,
    step_id: str,
    *,
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> CaseFile | Kept:
    """Undo one test, reading, part or photo. Raises NotFound."""

    def _act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected_revision)
        after = summed(_without(file, step_id))
        if any(photo.id == step_id for photo in file.photos):
            photos.remove(work, actor.shop.id, step_id)
        return files.keep(house, work, actor, after)

    return once(house, actor, receipt, _act)


def _added(
    house: House, actor: Actor, case_id: str, step: Step, *, receipt: Receipt | None, expected: int | None
) -> CaseFile | Kept:
    def _act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected)
        if _is_there(file, step):
            return file
        after = with_step(file, step)
        return files.keep(house, work, actor, after)

    return once(house, actor, receipt, _act)


def with_step(file: CaseFile, step: Step) -> CaseFile:
    """The case with one step more; an after-reading verifies a closed repair that has not come back."""
    if isinstance(step, TestStep):
        return replace(file, tests=_more(file.tests, step))
    if isinstance(step, PartStep):
        return summed(replace(file, parts=_more(file.parts, step)))
    proves = file.state == "closed" and step.reading.when == "after" and not file.returned_as
    return replace(file, readings=_more(file.readings, step), verified=file.verified or proves)


def _more(steps: tuple[S, ...], step: S) -> tuple[S, ...]:
    if len(steps) >= MOST_STEPS:
        refuse(f"the case has {len(steps)} of these", field="id", remedy="open another case for the rest")
    return (*steps, step)


def _is_there(file: CaseFile, step: Step) -> bool:
    """Whether the case has this step already. Raises AlreadyThere for its id with other content."""
    known = next((each for each in file.steps if each.stamp.id == step.stamp.id), None)
    if known is None:
        return False
    if type(known) is not type(step) or replace(known, stamp=step.stamp) != step:
        raise AlreadyThere(
            f"step {step.stamp.id} is there already with other content",
            field="id",
            remedy="make a new id for a new step",
        )
    return True


def _mended(step: PartStep, step_id: str, changes: Mapping[str, Any], house: House) -> PartStep:
    if step.stamp.id != step_id:
        return step
    part = replace(step.part, **changes)
    return replace(step, part=values.part(part, house.trade))


def _without(file: CaseFile, step_id: str) -> CaseFile:
    """The case without a step; photos of the step stay with the case. Raises NotFound."""
    after = replace(
        file,
        tests=tuple(step for step in file.tests if step.stamp.id != step_id),
        readings=tuple(step for step in file.readings if step.stamp.id != step_id),
        parts=tuple(step for step in file.parts if step.stamp.id != step_id),
        photos=tuple(photo for photo in file.photos if photo.id != step_id),
    )
    if after == file:
        raise NotFound("step", step_id, remedy="read the case for the ids of its steps")
    loose = (replace(photo, step=None) if photo.step == step_id else photo for photo in after.photos)
    return replace(after, photos=tuple(loose))
