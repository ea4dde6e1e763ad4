"""What the desk is given: cases to open, close and reopen, and which to list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Generic, TypeVar

from baylore_kb.values import (
    CaseState,
    Correction,
    Labour,
    Objected,
    PartTried,
    Reading,
    RepairTried,
    Skipped,
    TestDone,
    Vehicle,
)
from baylore_service.store.records.file import Unresolved

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class New(Generic[T]):
    """A step to be kept; without an id it gets one."""

    value: T
    id: str | None = None


@dataclass(frozen=True, slots=True)
class CaseDraft:
    """A case to open; without an id it gets one, without `opened` it opens now."""

    complaint_text: str
    id: str | None = None
    vehicle: Vehicle = Vehicle()
    symptoms: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    comes_and_goes: bool = False
    shows_when: tuple[str, ...] = ()
    as_typed: tuple[str, ...] = ()
    readings: tuple[New[Reading], ...] = ()
    tests: tuple[New[TestDone], ...] = ()
    parts: tuple[New[PartTried], ...] = ()
    repairs: tuple[New[RepairTried], ...] = ()
    skipped: tuple[New[Skipped], ...] = ()
    objections: tuple[New[Objected], ...] = ()
    note: str = ""
    opened: datetime | None = None


@dataclass(frozen=True, slots=True)
class OwnCause:
    """A cause that is not listed, in the shop's own words."""

    title: str
    system: str | None = None
    component: str | None = None


@dataclass(frozen=True, slots=True)
class Closing:
    """How a case ended: `cause` or `own_cause` with its correction, or the reason it stays unresolved.

    `verified` None is worked out: an after-reading or a verification text makes it true.
    `labour` with no diagnosis minutes takes the sum of the tests' minutes, with no rate the shop's.
    """

    cause: str | None = None
    own_cause: OwnCause | None = None
    unresolved: Unresolved | None = None
    correction: Correction | None = None
    confirmed_by: str | None = None
    verification: str = ""
    verified: bool | None = None
    readings: tuple[New[Reading], ...] = ()
    labour: Labour | None = None
    other_cost: float = 0.0
    note: str = ""
    title: str = ""


@dataclass(frozen=True, slots=True)
class Reopening:
    """What the car came back with; `vehicle` is a whole one or the fields to change."""

    complaint_text: str | None = None
    vehicle: Vehicle | Mapping[str, object] | None = None
    note: str = ""
    id: str | None = None


@dataclass(frozen=True, slots=True)
class CaseFilter:
    """Which cases to list; None or empty does not filter. `since`/`until` bound `opened`."""

    state: CaseState | None = None
    system: str | None = None
    make: str | None = None
    model: str | None = None
    cause: str | None = None
    text: str | None = None
    since: datetime | None = None
    until: datetime | None = None
