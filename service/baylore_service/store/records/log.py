"""Pages, lines of the change log, and answers kept for their keys."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from baylore_service.store.records.file import CaseFile

EntityKind = Literal["case", "shop", "member", "trade", "tuning"]
Op = Literal["put", "delete"]


@dataclass(frozen=True, slots=True)
class Page:
    """Cases newest first, and the cursor of the next page, None on the last."""

    items: tuple[CaseFile, ...]
    next_cursor: str | None


@dataclass(frozen=True, slots=True)
class Change:
    """A line of the change log; `case` is there where this is the case's latest change."""

    seq: int
    kind: EntityKind
    id: str
    op: Op
    case: CaseFile | None = None


@dataclass(frozen=True, slots=True)
class Receipt:
    """What to keep of a request: its key, the digest of what was asked, how to write the answer."""

    key: str
    digest: str
    render: Callable[[object], bytes]


@dataclass(frozen=True, slots=True)
class Kept:
    """The kept answer of a request; `replayed` when it was given before."""

    body: bytes
    replayed: bool
