"""Steps of a case: tests, readings, parts, repairs, skips, objections; each answers the whole case."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any
from uuid import UUID

from litestar import Controller, Response, delete, patch, post
from litestar.di import NamedDependency, Provide
from litestar.params import FromPath, JSONBody, SkipValidation

from baylore_service.desk import stepkinds as kinds
from baylore_service.desk import steps as desk
from baylore_service.desk.house import House
from baylore_service.routes.access import Asking, TheHouse, TheReader
from baylore_service.routes.intake import MERGE_PATCH
from baylore_service.routes.keys import MaybeReceipt, answer
from baylore_service.routes.tags import IfMatch, expected_revision
from baylore_service.store.records import Actor, Receipt
from baylore_service.wire import cases as wc
from baylore_service.wire import read_case
from baylore_service.wire import values as w
from baylore_service.wire.read import Reader


@dataclass(frozen=True, slots=True)
class Act:
    """A write on the steps of one case: who does it, from which version, and its receipt."""

    house: House
    actor: Actor
    case_id: str
    reader: Reader
    receipt: Receipt | None
    expected: int | None

    def add(self, value: kinds.Value, step_id: UUID | None) -> Response[wc.Case]:
        """Add a step, with the id the client made where it made one."""
        result = desk.add_step(
            self.house,
            self.actor,
            self.case_id,
            value,
            step_id=str(step_id) if step_id else None,
            receipt=self.receipt,
            expected_revision=self.expected,
        )
        return answer(result, status=201)

    def amend(self, kind: kinds.StepKind, step_id: UUID, changes: dict[str, Any]) -> Response[wc.Case]:
        """Correct a step."""
        result = desk.amend_step(
            self.house,
            self.actor,
            self.case_id,
            str(step_id),
            kind=kind,
            changes=changes,
            receipt=self.receipt,
            expected_revision=self.expected,
        )
        return answer(result)

    def remove(self, step_id: UUID) -> Response[wc.Case]:
        """Take a step back."""
        result = desk.remove_step(
            self.house,
            self.actor,
            self.case_id,
            str(step_id),
            receipt=self.receipt,
            expected_revision=self.expected,
        )
        return answer(result)


def provide_act(
    case_id: FromPath[UUID],
    *,
    house: TheHouse,
    actor: Asking,
    reader: TheReader,
    receipt: MaybeReceipt,
    if_match: IfMatch = None,
) -> Act:
    """The write that a request asks for."""
    return Act(house, actor, str(case_id), reader, receipt, expected_revision(if_match))


TheAct = NamedDependency[SkipValidation[Act]]


class StepRoutes(Controller):
    """What was tested, measured, fitted, repaired, skipped and doubted."""

    path = "/api/cases/{case_id:uuid}"
    tags = ("steps",)
    dependencies = {"act": Provide(provide_act, sync_to_thread=False)}

    @post("/tests", status_code=201, sync_to_thread=True)
    def add_test(self, data: JSONBody[w.Test], *, act: TheAct) -> Response[wc.Case]:
        """Add a test with its outcome."""
        return act.add(act.reader.test(data, field=""), data.id)

    @post("/readings", status_code=201, sync_to_thread=True)
    def add_reading(self, data: JSONBody[w.Reading], *, act: TheAct) -> Response[wc.Case]:
        """Add a reading."""
        return act.add(act.reader.reading(data, field=""), data.id)

    @post("/parts", status_code=201, sync_to_thread=True)
    def add_part(self, data: JSONBody[w.Part], *, act: TheAct) -> Response[wc.Case]:
        """Add a part that was fitted."""
        return act.add(act.reader.part(data, field=""), data.id)

    @post("/repairs", status_code=201, sync_to_thread=True)
    def add_repair(self, data: JSONBody[w.Repair], *, act: TheAct) -> Response[wc.Case]:
        """Add a repair that was tried without a new part."""
        return act.add(act.reader.repair(data, field=""), data.id)

    @post("/skips", status_code=201, sync_to_thread=True)
    def add_skip(self, data: JSONBody[w.Skip], *, act: TheAct) -> Response[wc.Case]:
        """Say that a proposed test is not done, and why."""
        return act.add(act.reader.skip(data, field=""), data.id)

    @post("/objections", status_code=201, sync_to_thread=True)
    def add_objection(self, data: JSONBody[w.Objection], *, act: TheAct) -> Response[wc.Case]:
        """Say that a proposed cause is wrong, and why."""
        return act.add(act.reader.objection(data, field=""), data.id)

    @patch("/tests/{step_id:uuid}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_test(
        self, step_id: FromPath[UUID], data: JSONBody[wc.TestPatch], *, act: TheAct
    ) -> Response[wc.Case]:
        """Correct a test; the new takes the place of the old, who did it and when stay."""
        return act.amend(kinds.TEST, step_id, read_case.test_changes(data, act.reader))

    @patch("/readings/{step_id:uuid}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_reading(
        self, step_id: FromPath[UUID], data: JSONBody[wc.ReadingPatch], *, act: TheAct
    ) -> Response[wc.Case]:
        """Correct a reading; the new takes the place of the old, who took it and when stay."""
        return act.amend(kinds.READING, step_id, read_case.reading_changes(data, act.reader))

    @patch("/parts/{step_id:uuid}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_part(
        self, step_id: FromPath[UUID], data: JSONBody[wc.PartPatch], *, act: TheAct
    ) -> Response[wc.Case]:
        """Say what a part did, once it is known."""
        return act.amend(kinds.PART, step_id, read_case.noted(data))

    @patch("/repairs/{step_id:uuid}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_repair(
        self, step_id: FromPath[UUID], data: JSONBody[wc.RepairPatch], *, act: TheAct
    ) -> Response[wc.Case]:
        """Correct what a repair did."""
        return act.amend(kinds.REPAIR, step_id, read_case.noted(data))

    @delete("/steps/{step_id:uuid}", status_code=200, sync_to_thread=True)
    def remove_step(self, step_id: FromPath[UUID], *, act: TheAct) -> Response[wc.Case]:
        """Take one step back."""
        return act.remove(step_id)
