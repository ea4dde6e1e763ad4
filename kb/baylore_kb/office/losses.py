"""Money and minutes: what was given away, what did not cure, and what a diagnosis takes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import fsum
from statistics import median

from baylore_kb.casedoc import system_title
from baylore_kb.recurrence.sightings import sightings, title_of
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

FEWEST = 3


@dataclass(frozen=True, slots=True)
class Loss:
    """Minutes not billed and parts that did not cure, by cause; money in the shop's currency.

    `given` is the minutes' worth at each case's own rate (the shop's where it has none) with the parts.
    """

    cause: str
    title: str
    cases: int
    minutes: float
    parts: int
    parts_money: float
    given: float


@dataclass(frozen=True, slots=True)
class JobTime:
    """Diagnosis minutes of a kind of job: middle, worst, and what nine of ten stay under."""

    system: str
    title: str
    jobs: int
    middle: float
    most: float
    worst: float
    says: str


@dataclass(slots=True)
class _Sum:
    title: str
    cases: int = 0
    minutes: float = 0.0
    parts: int = 0
    money: list[float] = field(default_factory=list)
    worth: list[float] = field(default_factory=list)


def losses(cases: Iterable[Case], *, trade: Trade, rate_per_hour: float) -> tuple[Loss, ...]:
    """What was given away by confirmed cause, the dearest first; causes without any loss are left out."""
    sums: dict[str, _Sum] = {}
    for one in sightings(cases, trade):
        case = one.case
        held = sums.setdefault(case.cause or "", _Sum(title_of("cause", case.cause or "", case, trade)))
        held.cases += 1
        held.minutes += case.labour.not_billed_min
        held.worth.append(case.labour.not_billed_min / 60.0 * (case.labour.rate_per_hour or rate_per_hour))
        wasted = [p for p in case.complaint.parts if p.result in ("no change", "failed later")]
        held.parts += len(wasted)
        held.money.extend(part.price or 0.0 for part in wasted)
    rows = [_loss(cause, held) for cause, held in sums.items() if held.minutes or held.parts]
    return tuple(sorted(rows, key=lambda row: (-row.given, row.cause)))


def _loss(cause: str, held: _Sum) -> Loss:
    money = fsum(held.money)
    return Loss(cause, held.title, held.cases, held.minutes, held.parts, money, fsum(held.worth) + money)


def job_times(cases: Iterable[Case], trade: Trade) -> tuple[JobTime, ...]:
    """Diagnosis minutes by system, for three jobs or more that have them; the most jobs first."""
    by_system: defaultdict[str, list[float]] = defaultdict(list)
    for one in sightings(cases, trade):
        if one.case.labour.diagnosis_min > 0 and "system" in one.names:
            by_system[one.names["system"]].append(one.case.labour.diagnosis_min)
    rows = [_time(system, sorted(held), trade) for system, held in by_system.items() if len(held) >= FEWEST]
    return tuple(sorted(rows, key=lambda row: (-row.jobs, row.system)))


def _time(system: str, held: Sequence[float], trade: Trade) -> JobTime:
    title = system_title(system, trade)
    middle, most = float(median(held)), held[min(len(held) - 1, int(0.9 * len(held)))]
    says = (
        f"{title}: {middle:.0f} minutes in the middle of {len(held)} jobs, nine of ten under {most:.0f}, "
        f"the worst {held[-1]:.0f}."
    )
    return JobTime(system, title, len(held), middle, most, held[-1], says)
