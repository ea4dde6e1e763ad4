"""Steps of a case: tests, readings and parts, added, mended and undone."""

from __future__ import annotations

from collections.abc import Mapping

from baylore_kb.values import PartTried, Reading, TestDone
from baylore_service.desk.house import House
from baylore_service.store.records import Actor, CaseFile, Kept, Receipt


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
    raise NotImplementedError


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
    raise NotImplementedError


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
    raise NotImplementedError


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
    raise NotImplementedError


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
    raise NotImplementedError
