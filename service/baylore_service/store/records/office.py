"""What the office keeps beside cases."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from baylore_kb.alerts import Alert


@dataclass(frozen=True, slots=True)
class NeutralVisits:
    """How many cars of a model came for neutral reasons (oil, tyres) in a month, as 2026-03."""

    month: str
    make: str
    model: str
    count: int


AlertState = Literal["open", "acknowledged", "muted", "over"]


@dataclass(frozen=True, slots=True)
class KeptAlert:
    """An alert as it was last seen, and what was done about it; `over` where it no longer holds."""

    id: str
    alert: Alert
    state: AlertState
    raised: datetime
    seen: datetime
    settled: datetime | None = None
    settled_level: int | None = None
    by: str | None = None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Hook:
    """An address that hears of alerts, with the secret its messages are signed with."""

    id: str
    url: str
    secret: str
    made: datetime


@dataclass(frozen=True, slots=True)
class Delivery:
    """A message on its way; `hook_id` is empty for a mail."""

    shop_id: str
    id: str
    hook_id: str
    body: str
    made: datetime
    due: datetime
    tries: int = 0
    trouble: str = ""


@dataclass(frozen=True, slots=True)
class FactAsked:
    """A fact its author is asked for; `unknown` once the author says that nobody knows any more."""

    case_id: str
    fact: str
    at: datetime
    by: str | None
    unknown: bool = False


@dataclass(frozen=True, slots=True)
class Delivered:
    """What became of a message: taken after so many tries, or given up with its last `trouble`."""

    id: str
    hook_id: str
    title: str
    made: datetime
    ended: datetime
    tries: int
    trouble: str = ""
