"""The one shape of a refusal (RFC 9457)."""

from __future__ import annotations

from msgspec import UNSET, UnsetType

from baylore_service.wire import fields as f


class Trouble(f.Outgoing, frozen=True):
    """One of several things that are wrong."""

    field: str
    detail: str
    remedy: str


class Problem(f.Outgoing, frozen=True):
    """What is wrong, where, and what helps."""

    type: str
    title: str
    status: int
    detail: str
    remedy: str
    field: str | UnsetType = UNSET
    errors: tuple[Trouble, ...] | UnsetType = UNSET
