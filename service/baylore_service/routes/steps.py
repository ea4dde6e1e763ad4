"""Steps of a case: tests, readings, parts; each answers the whole case."""

from __future__ import annotations

from uuid import UUID

from litestar import Controller, Response, delete, patch, post
from litestar.params import FromPath, JSONBody

from baylore_service.desk import steps as desk
from baylore_service.routes.access import Asking, TheHouse, TheReader
from baylore_service.routes.intake import MERGE_PATCH
from baylore_service.routes.keys import MaybeReceipt, answer
from baylore_service.routes.tags import IfMatch, expected_revision
from baylore_service.wire import cases as wc
from baylore_service.wire import read_case
from baylore_service.wire import values as w


def given(step_id: UUID | None) -> str | None:
    """The id the client made, where it made one."""
    return str(step_id) if step_id else None


class StepRoutes(Controller):
    """What was tested, measured and fitted."""

    path = "/api/cases/{case_id:uuid}"
    tags = ("steps",)

    @post("/tests", status_code=201, sync_to_thread=True)
    def add_test(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[w.Test],
        *,
        house: TheHouse,
        actor: Asking,
        reader: TheReader,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.Case]:
        """Add a test with its outcome."""
        result = desk.add_test(
            house,
            actor,
            str(case_id),
            reader.test(data, field=""),
            step_id=given(data.id),
            receipt=receipt,
            expected_revision=expected_revision(if_match),
        )
        return answer(result, status=201)

    @post("/readings", status_code=201, sync_to_thread=True)
    def add_reading(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[w.Reading],
        *,
        house: TheHouse,
        actor: Asking,
        reader: TheReader,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.Case]:
        """Add a reading."""
        result = desk.add_reading(
            house,
            actor,
            str(case_id),
            reader.reading(data, field=""),
            step_id=given(data.id),
            receipt=receipt,
            expected_revision=expected_revision(if_match),
        )
        return answer(result, status=201)

    @post("/parts", status_code=201, sync_to_thread=True)
    def add_part(
        self,
        case_id: FromPath[UUID],
        data: JSONBody[w.Part],
        *,
        house: TheHouse,
        actor: Asking,
        reader: TheReader,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.Case]:
        """Add a part that was fitted."""
        result = desk.add_part(
            house,
            actor,
            str(case_id),
            reader.part(data, field=""),
            step_id=given(data.id),
            receipt=receipt,
            expected_revision=expected_revision(if_match),
        )
        return answer(result, status=201)

    @patch("/parts/{step_id:uuid}", sync_to_thread=True, opt={"accepts": MERGE_PATCH})
    def amend_part(
        self,
        case_id: FromPath[UUID],
        step_id: FromPath[UUID],
        data: JSONBody[wc.PartPatch],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.Case]:
        """Say what a part did, once it is known."""
        result = desk.amend_part(
            house,
            actor,
            str(case_id),
            str(step_id),
            changes=read_case.part_changes(data),
            receipt=receipt,
            expected_revision=expected_revision(if_match),
        )
        return answer(result)

    @delete("/steps/{step_id:uuid}", status_code=200, sync_to_thread=True)
    def remove_step(
        self,
        case_id: FromPath[UUID],
        step_id: FromPath[UUID],
        *,
        house: TheHouse,
        actor: Asking,
        receipt: MaybeReceipt,
        if_match: IfMatch = None,
    ) -> Response[wc.Case]:
        """Take one step back."""
        result = desk.remove_step(
            house,
            actor,
            str(case_id),
            str(step_id),
            receipt=receipt,
            expected_revision=expected_revision(if_match),
        )
        return answer(result)
