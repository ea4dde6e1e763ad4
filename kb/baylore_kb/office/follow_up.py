"""Whom to ask after: jobs closed two weeks ago whose fault is likeliest to come back."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from baylore_kb.office.cures import outcome_known
from baylore_kb.recurrence.sightings import name_of, utc
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

# Sooner a fault that comes and goes may not have shown itself; later the car is not remembered.
SOONEST, LATEST = timedelta(days=14), timedelta(days=60)
# The shop's rate weighs as much as so many cases of a kind.
STRENGTH = 8.0
MOST_RISK = 0.95


@dataclass(frozen=True, slots=True)
class FollowUp:
    """A job to ask after: `risk` is the chance (0 to 1) that its fault comes back, `why` what raises it.

    `tried` says that nobody was reached before.
    """

    case: str
    title: str
    model: str
    closed: datetime
    days: int
    risk: float
    why: tuple[str, ...]
    tried: bool


@dataclass(frozen=True, slots=True)
class _Kind:
    """Something that may raise the risk: whether a case has it, and how it is said."""

    has: Callable[[Case], bool]
    said: str


def follow_ups(
    cases: Iterable[Case], *, now: datetime, trade: Trade, most: int | None = None
) -> tuple[FollowUp, ...]:
    """Closed cases of 14 to 60 days ago that nobody knows the outcome of, the riskiest first.

    Those where nobody was reached come last. The risk is the shop's share of comebacks, raised and lowered
    by what its own cases say of such causes, unproved cures, faults that come and go and copied parts.
    """
    closed = [case for case in cases if case.state == "closed" and case.cause]
    rate = (sum(map(_returned, closed)) + 0.5) / (len(closed) + 1.0)
    kinds = {kind: _times(closed, kind, rate) for kind in KINDS}
    causes = _causes(closed)
    rows = [
        _row(case, when, now=now, rate=rate, kinds=kinds, causes=causes, trade=trade)
        for case in closed
        if (when := utc(case.closed)) is not None and _due(case, now - when)
    ]
    return tuple(sorted(rows, key=lambda row: (row.tried, -row.risk, row.closed, row.case))[:most])


def _due(case: Case, ago: timedelta) -> bool:
    return not outcome_known(case) and SOONEST <= ago <= LATEST


def _returned(case: Case) -> bool:
    return bool(case.returned_as)


def _times(closed: Sequence[Case], kind: _Kind, rate: float) -> float:
    """How many times as often cases of a kind come back as all of them, drawn to once."""
    of_it = [case for case in closed if kind.has(case)]
    return (sum(map(_returned, of_it)) + STRENGTH * rate) / (len(of_it) + STRENGTH) / rate


def _causes(closed: Iterable[Case]) -> dict[str, tuple[int, int]]:
    """How many came back of how many, by cause."""
    found: dict[str, tuple[int, int]] = {}
    for case in closed:
        back, of = found.get(case.cause or "", (0, 0))
        found[case.cause or ""] = back + _returned(case), of + 1
    return found


def _row(
    case: Case,
    when: datetime,
    *,
    now: datetime,
    rate: float,
    kinds: dict[_Kind, float],
    causes: dict[str, tuple[int, int]],
    trade: Trade,
) -> FollowUp:
    back, of = causes[case.cause or ""]
    risk = (back + STRENGTH * rate) / (of + STRENGTH)
    why = [f"{back} of {of} with this cause came back"] if back else []
    for kind, times in kinds.items():
        if kind.has(case):
            risk *= times
            why += [kind.said] if times > 1.0 else []
    return FollowUp(
        case=case.id,
        title=case.title,
        model=name_of("model", case, trade, month=-1, band=-1),
        closed=when,
        days=(now - when).days,
        risk=min(MOST_RISK, risk),
        why=tuple(why),
        tried=case.followed == "not reached",
    )


def _copied(case: Case) -> bool:
    return any(part.source in ("aftermarket", "used") for part in case.complaint.parts)


KINDS = (
    _Kind(lambda case: not case.verified, "the cure was not proved"),
    _Kind(lambda case: case.complaint.comes_and_goes, "the fault comes and goes"),
    _Kind(_copied, "a part that is not the maker's was fitted"),
)
