"""Steps of a case: tests, readings, parts, repairs, skipped tests and objections; added, mended, undone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from baylore_kb.values import PartTried, Reading, TestDone
from baylore_service.desk import files
from baylore_service.desk.checks.file import MOST_STEPS
from baylore_service.desk.checks.plain import refuse
from baylore_service.desk.house import House
from baylore_service.desk.money import summed
from baylore_service.desk.once import once
from baylore_service.desk.redraft import redrafted
from baylore_service.desk.stepkinds import BY_VALUE, PART, StepKind, Value, each_kind, kind_of
from baylore_service.errors import AlreadyThere, NotFound
from baylore_service.store import photos
from baylore_service.store.records import Actor, CaseFile, Kept, ReadingStep, Receipt, Step
from baylore_service.store.work import Work


def add_step(
    house: House,
    actor: Actor,
    case_id: str,
    value: Value,
    *,
    step_id: str | None = None,
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> CaseFile | Kept:
    """Keep a step. The same id and content again changes nothing; other content raises AlreadyThere.

    Implausible readings are kept too.
    """
    kind = BY_VALUE[type(value)]
    kind.check(value, house.trade_of(actor))
    made = kind.step(files.stamp(house, actor, step_id), value)

    def _act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected_revision)
        return file if _is_there(file, made) else _kept(house, work, actor, file, after=with_step(file, made))

    return once(house, actor, receipt, _act)


def add_test(house: House, actor: Actor, case_id: str, step: TestDone, **options: Any) -> CaseFile | Kept:
    """Keep a test; options as for `add_step`."""
    return add_step(house, actor, case_id, step, **options)


def add_reading(house: House, actor: Actor, case_id: str, step: Reading, **options: Any) -> CaseFile | Kept:
    """Keep a reading; options as for `add_step`."""
    return add_step(house, actor, case_id, step, **options)


def add_part(house: House, actor: Actor, case_id: str, step: PartTried, **options: Any) -> CaseFile | Kept:
    """Keep a part that was fitted; options as for `add_step`."""
    return add_step(house, actor, case_id, step, **options)


def amend_step(
    house: House,
    actor: Actor,
    case_id: str,
    step_id: str,
    *,
    kind: StepKind,
    changes: Mapping[str, object],
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> CaseFile | Kept:
    """Correct fields of a step, keyed as its value has them; the new take the place of the old.

    Who kept the step and when stay; sums and a drafted note follow. Raises NotFound, BadValue.
    """
    kind.check_mendable(changes)

    def _act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected_revision)
        if step_id not in {step.stamp.id for step in kind.of(file)}:
            raise NotFound(kind.name, step_id, remedy=f"read the case for the ids of its {kind.field}")
        steps = tuple(
            kind.mended(step, changes, house.trade_of(actor)) if step.stamp.id == step_id else step
            for step in kind.of(file)
        )
        after = kind.put(file, steps)
        return file if after == file else _kept(house, work, actor, file, after=after)

    return once(house, actor, receipt, _act)


def amend_part(
    house: House, actor: Actor, case_id: str, step_id: str, *, changes: Mapping[str, object], **options: Any
) -> CaseFile | Kept:
    """Say what a part did, once it is known; options as for `amend_step`."""
    return amend_step(house, actor, case_id, step_id, kind=PART, changes=changes, **options)


def remove_step(
    house: House,
    actor: Actor,
    case_id: str,
    step_id: str,
    *,
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> CaseFile | Kept:
    """Undo one step or photo. Raises NotFound."""

    def _act(work: Work) -> CaseFile:
        file = files.find(work, actor, case_id, expected=expected_revision)
        after = _without(file, step_id)
        if any(photo.id == step_id for photo in file.photos):
            photos.remove(work, actor.shop.id, step_id)
        return _kept(house, work, actor, file, after=after)

    return once(house, actor, receipt, _act)


def _kept(house: House, work: Work, actor: Actor, before: CaseFile, *, after: CaseFile) -> CaseFile:
    """Keep the changed case: sums follow its parts, a drafted note all its steps."""
    paid = summed(after) if after.parts != before.parts else after
    return files.keep(house, work, actor, redrafted(before, paid, house.trade_of(actor)))


def with_step(file: CaseFile, step: Step) -> CaseFile:
    """The case with one step more; an after-reading verifies a closed repair that has not come back."""
    kind = kind_of(step)
    steps = kind.of(file)
    if len(steps) >= MOST_STEPS:
        refuse(f"the case has {len(steps)} of these", field="id", remedy="open another case for the rest")
    after = kind.put(file, (*steps, step))
    if not isinstance(step, ReadingStep):
        return after
    proves = file.state == "closed" and step.reading.when == "after" and not file.returned_as
    return replace(after, verified=file.verified or proves)


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


def _without(file: CaseFile, step_id: str) -> CaseFile:
    """The case without a step; photos of the step stay with the case. Raises NotFound."""
    after = each_kind(
        file,
        lambda kind, steps: tuple(step for step in steps if step.stamp.id != step_id),
        photos=tuple(photo for photo in file.photos if photo.id != step_id),
    )
    if after == file:
        raise NotFound("step", step_id, remedy="read the case for the ids of its steps")
    loose = (replace(photo, step=None) if photo.step == step_id else photo for photo in after.photos)
    return replace(after, photos=tuple(loose))
