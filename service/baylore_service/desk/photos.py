"""Photos of a case: JPEG, PNG or WebP, known by their first bytes."""

from __future__ import annotations

from baylore_service.desk.house import House
from baylore_service.store.records import Actor, CaseFile, Kept, Receipt


def add_photo(
    house: House,
    actor: Actor,
    case_id: str,
    *,
    type: str,
    data: bytes,
    step: str | None = None,
    note: str = "",
    photo_id: str | None = None,
    receipt: Receipt | None = None,
) -> CaseFile | Kept:
    """Keep a photo. Raises NotFound (case, step), BadValue (kind of picture), TooLarge."""
    raise NotImplementedError


def get_photo(house: House, actor: Actor, case_id: str, photo_id: str) -> tuple[str, bytes]:
    """Media type and bytes of a photo. Raises NotFound."""
    raise NotImplementedError
