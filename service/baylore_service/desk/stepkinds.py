"""The kinds of steps a case has: where each lies, how it is checked, what of it may be corrected."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from baylore_kb.trade.model import Trade
from baylore_kb.values import Objected, PartTried, Reading, RepairTried, Skipped, TestDone
from baylore_service.desk.checks import values
from baylore_service.desk.checks.plain import refuse
from baylore_service.store.records import (
    CaseFile,
    ObjectionStep,
    PartStep,
    ReadingStep,
    RepairStep,
    SkipStep,
    Stamp,
    Step,
    TestStep,
)

Value = TestDone | Reading | PartTried | RepairTried | Skipped | Objected


@dataclass(frozen=True, slots=True)
class StepKind:
    """One kind: its `name`, the `field` of a case it lies in, the `held` field of a step with its value.

    `mendable` are the fields of the value that can be corrected later.
    """

    name: str
    field: str
    held: str
    step: Callable[[Stamp, Any], Step]
    check: Callable[..., Any]
    mendable: tuple[str, ...] = ()

    def of(self, file: CaseFile) -> tuple[Any, ...]:
        """The steps of this kind."""
        steps: tuple[Any, ...] = getattr(file, self.field)
        return steps

    def mended(self, step: Any, changes: Mapping[str, Any], trade: Trade) -> Any:
        """The step with a corrected value; who kept it and when stay. Raises BadValue."""
        value = replace(getattr(step, self.held), **changes)
        return replace(step, **{self.held: self.check(value, trade)})

    def put(self, file: CaseFile, steps: tuple[Any, ...]) -> CaseFile:
        """The case with these steps of this kind."""
        changed: dict[str, Any] = {self.field: steps}
        return replace(file, **changed)

    def check_mendable(self, changes: Mapping[str, object]) -> None:
        """Raises BadValue for a field that cannot be corrected."""
        for name in changes:
            if name not in self.mendable:
                refuse("cannot be changed here", field=name, remedy=f"change {', '.join(self.mendable)}")


TEST = StepKind(
    "test",
    "tests",
    "test",
    TestStep,
    values.test,
    mendable=("outcome", "minutes", "note", "part", "fault_present"),
)
READING = StepKind(
    "reading",
    "readings",
    "reading",
    ReadingStep,
    values.reading,
    mendable=("value", "unit", "point", "conditions"),
)
PART = StepKind(
    "part", "parts", "part", PartStep, values.part, mendable=("result", "note", "charged", "price")
)
REPAIR = StepKind(
    "repair", "repairs", "repair", RepairStep, values.repair, mendable=("result", "minutes", "note")
)
SKIP = StepKind("skipped test", "skipped", "skipped", SkipStep, values.skipped)
OBJECTION = StepKind("objection", "objections", "objection", ObjectionStep, values.objection)
KINDS = (TEST, READING, PART, REPAIR, SKIP, OBJECTION)
BY_VALUE: Mapping[type, StepKind] = {
    TestDone: TEST,
    Reading: READING,
    PartTried: PART,
    RepairTried: REPAIR,
    Skipped: SKIP,
    Objected: OBJECTION,
}


def each_kind(
    file: CaseFile, change: Callable[[StepKind, tuple[Any, ...]], tuple[Any, ...]], **others: Any
) -> CaseFile:
    """The case with the steps of each kind changed, and with other fields put in the place of its own."""
    steps: dict[str, Any] = {kind.field: change(kind, kind.of(file)) for kind in KINDS}
    return replace(file, **steps, **others)


def kind_of(step: Step) -> StepKind:
    """The kind of a step."""
    return next(kind for kind in KINDS if kind.step is type(step))
