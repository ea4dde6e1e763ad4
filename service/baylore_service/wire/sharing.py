"""What other shops of the service may see of a case, as it travels."""

from __future__ import annotations

from datetime import datetime
from typing import Literal

from baylore_service.wire import fields as f
from baylore_service.wire.advice import CaseRow
from baylore_service.wire.cases import Case


class TakenOut(f.Outgoing, frozen=True):
    """Something that does not leave the shop: where it stood, what it is, the words themselves."""

    field: str
    kind: Literal["e-mail", "phone", "plate", "name", "vin"]
    was: str


class Sharing(f.Outgoing, frozen=True):
    """A case as others would see it and what was taken out of its words.

    `revision` is that of the case looked at. `shared` says since when others see it, null where they do not;
    `changed_since` whether the case was changed after what they see.
    """

    case: Case
    taken_out: tuple[TakenOut, ...]
    revision: int
    shared: datetime | None
    changed_since: bool


class SharingPatch(f.Incoming, frozen=True):
    """Whether the other shops see the case."""

    shared: bool


class Elsewhere(f.Outgoing, frozen=True):
    """Like cases of other shops, best first; their ids stand for nothing in this shop."""

    cases: tuple[CaseRow, ...]
