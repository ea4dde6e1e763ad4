"""First-visit cures and comebacks over time, by system and by kind of cause. No member is named."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from baylore_kb.recurrence.intervals import jeffreys_proportion
from baylore_kb.recurrence.sightings import Sighting, sightings, utc
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

SETTLED = timedelta(days=30)


@dataclass(frozen=True, slots=True)
class Cures:
    """Of `closed` settled cases, `came_back`; the share cured at the first visit, 95 % limits."""

    name: str
    title: str
    closed: int
    came_back: int
    cured: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class CureReport:
    """Cures by quarter (as 2026-Q1), by system and by the kind of cause, oldest or largest first."""

    quarters: tuple[Cures, ...]
    systems: tuple[Cures, ...]
    kinds: tuple[Cures, ...]


def cures(cases: Iterable[Case], *, now: datetime, trade: Trade) -> CureReport:
    """Cures of cases closed thirty days ago or more, asked after, or come back already; empty for none."""
    held = [one for one in sightings(cases, trade) if _settled(one.case, now)]
    quarters = _by(held, _quarter, dict)
    return CureReport(
        quarters=tuple(sorted(quarters, key=lambda row: row.name)),
        systems=_largest(_by(held, lambda one: one.names.get("system", ""), _titles(trade, "systems"))),
        kinds=_largest(_by(held, lambda one: _kind(one.case, trade), lambda: dict(trade.modes))),
    )


def _settled(case: Case, now: datetime) -> bool:
    closed = utc(case.closed or case.opened)
    return outcome_known(case) or (closed is not None and now - closed >= SETTLED)


def outcome_known(case: Case) -> bool:
    """Whether somebody knows how the repair held: the car came back, or was asked after."""
    return bool(case.returned_as) or case.followed in ("cured", "came back")


def came_back(case: Case) -> bool:
    """Whether the fault came back: as another case, or as it was told when asked after."""
    return bool(case.returned_as) or case.followed == "came back"


def _quarter(one: Sighting) -> str:
    return f"{one.when.year}-Q{(one.when.month + 2) // 3}" if one.when else ""


def _kind(case: Case, trade: Trade) -> str:
    cause = trade.causes.get(case.cause or "")
    return cause.mode if cause else ""


def _titles(trade: Trade, listed: str) -> Callable[[], dict[str, str]]:
    return lambda: {id: each.title for id, each in getattr(trade, listed).items()}


def _by(
    held: Iterable[Sighting], name: Callable[[Sighting], str], titles: Callable[[], dict[str, str]]
) -> list[Cures]:
    groups: defaultdict[str, list[Sighting]] = defaultdict(list)
    for one in held:
        groups[name(one)].append(one)
    words = titles()
    return [_row(key, words.get(key, key), of_it) for key, of_it in groups.items() if key]


def _row(name: str, title: str, held: Sequence[Sighting]) -> Cures:
    back = sum(came_back(one.case) for one in held)
    low, high = jeffreys_proportion(len(held) - back, len(held))
    return Cures(name, title, len(held), back, 1.0 - back / len(held), low, high)


def _largest(rows: Iterable[Cures]) -> tuple[Cures, ...]:
    return tuple(sorted(rows, key=lambda row: (-row.closed, row.name)))
