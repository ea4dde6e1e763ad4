"""Closing a case with its cause, or without one; opening it again when the car comes back."""

from __future__ import annotations

from baylore_service.desk.house import House
from baylore_service.store.records import Actor, CaseFile, Closing, Kept, Receipt, Reopening


def close_case(
    house: House,
    actor: Actor,
    case_id: str,
    closing: Closing,
    *,
    receipt: Receipt | None = None,
    expected_revision: int | None = None,
) -> CaseFile | Kept:
    """Close a case. The same content again answers the same; other content raises AlreadyClosed."""
    raise NotImplementedError


def reopen_case(
    house: House, actor: Actor, case_id: str, reopening: Reopening, *, receipt: Receipt | None = None
) -> CaseFile | Kept:
    """The new open case with `comeback_of` set; the old one stops claiming a cure. Raises NotClosed."""
    raise NotImplementedError
