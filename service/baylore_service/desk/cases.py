"""Cases: open, read, list, change, delete."""

from __future__ import annotations

from collections.abc import Mapping

from baylore_service.desk.house import House
from baylore_service.store.records import Actor, CaseDraft, CaseFile, CaseFilter, Kept, Page, Receipt


def open_case(
    house: House, actor: Actor, draft: CaseDraft, *, receipt: Receipt | None = None
) -> CaseFile | Kept:
    """Keep a new case. Raises BadValue, AlreadyThere (an id of this shop), KeyReused."""
    raise NotImplementedError


def get_case(house: House, actor: Actor, case_id: str) -> CaseFile:
    """The case of this shop. Raises NotFound."""
    raise NotImplementedError


def list_cases(
    house: House, actor: Actor, which: CaseFilter, *, cursor: str | None = None, limit: int = 20
) -> Page:
    """Cases newest first. Raises BadValue for a cursor of another filter or of nobody."""
    raise NotImplementedError


def amend_case(
    house: House,
    actor: Actor,
    case_id: str,
    changes: Mapping[str, object],
    *,
    expected_revision: int | None,
    receipt: Receipt | None = None,
) -> CaseFile | Kept:
    """Change fields of a case: values already parsed, keyed by CaseFile field.

    Fields: complaint_text, vehicle, symptoms, codes, comes_and_goes, note, title, correction, cause,
    cause_title, verification, labour. `vehicle` and `labour` take a whole value or a mapping of only the
    fields to change. None sets back where that can be.
    Raises NotFound, StaleRevision, BadValue, KeyReused.
    """
    raise NotImplementedError


def delete_case(house: House, actor: Actor, case_id: str, *, expected_revision: int | None) -> None:
    """Delete a case with its photos. Raises WrongRole, NotFound, StaleRevision."""
    raise NotImplementedError
