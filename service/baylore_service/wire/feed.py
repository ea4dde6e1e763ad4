"""The change log as phones follow it, and the trade lists they keep."""

from __future__ import annotations

from typing import Any, Literal

from baylore_service.wire import fields as f
from baylore_service.wire.cases import Case


class Change(f.Outgoing, frozen=True):
    """A change; `case` is there where a case was put."""

    seq: int
    kind: Literal["case", "shop", "member", "trade", "tuning"]
    id: str
    op: Literal["put", "delete"]
    case: Case | None


class Changes(f.Outgoing, frozen=True):
    """Changes after a number: ask again after `next` until it is `latest`."""

    changes: tuple[Change, ...]
    next: int
    latest: int


class TradeList(f.Outgoing, frozen=True):
    """A list of the trade knowledge; items have the field names of the engine's records."""

    list: str
    version: str
    items: tuple[dict[str, Any], ...]
