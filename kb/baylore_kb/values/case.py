"""A kept case, and the habits of the shop that keeps it."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from baylore_kb.values.given import Complaint, Correction, Cost, Labour

# What was heard when the car was asked after.
Followed = Literal["cured", "came back", "not reached"]
CaseState = Literal["open", "closed", "unresolved"]


@dataclass(frozen=True, slots=True)
class Case:
    """One complaint on one vehicle, with its confirmed cause once closed.

    `cause` is a listed cause id, or `own.<words>` with its words in `cause_title`
    (and, where known, `cause_system`) when the shop found something not listed.
    """

    id: str
    complaint: Complaint
    state: CaseState = "open"
    title: str = ""
    cause: str | None = None
    cause_title: str = ""
    cause_system: str | None = None
    correction: Correction | None = None
    confirmed_by: str | None = None
    verification: str = ""
    verified: bool = False
    unresolved_reason: str | None = None
    note: str = ""
    labour: Labour = Labour()
    cost: Cost = Cost()
    opened: datetime | None = None
    closed: datetime | None = None
    comeback_of: str | None = None
    returned_as: tuple[str, ...] = ()
    followed: Followed | None = None


@dataclass(frozen=True, slots=True)
class Terms:
    """The shop's money and habits that planning needs; rate per hour > 0.

    `lacks` are tools the shop has not. `rights_needed` are (system or test id, right) pairs: who does not
    hold the right may not do the test; the shop sets them for its own law.
    """

    rate_per_hour: float = 95.0
    currency: str = "USD"
    comeback_cost_min: float = 60.0
    lacks: frozenset[str] = frozenset()
    rights_needed: tuple[tuple[str, str], ...] = ()
