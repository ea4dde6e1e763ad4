"""What the memory is worth by now, and where it has gaps."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from statistics import median

from baylore_kb.recurrence.sightings import Sighting, sightings
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

EARLY = 0.25
FEWEST = 3
MOST = 50
# What a case may lack that its author may still know.
FACTS = ("correction", "verification", "diagnosis minutes", "model", "odometer")
UNRECORDED = 20


@dataclass(frozen=True, slots=True)
class Saved:
    """Diagnosis minutes a job against the shop's own early jobs of the same systems; `jobs` were compared.

    Early are the first quarter of jobs of a system, late the last. Positive minutes are saved.
    """

    minutes: float
    early: float
    late: float
    jobs: int


@dataclass(frozen=True, slots=True)
class SystemGap:
    """A system with complaints but few confirmed causes."""

    system: str
    title: str
    complaints: int
    closed: int


@dataclass(frozen=True, slots=True)
class Missing:
    """A closed case that lacks facts worth asking its author for."""

    case: str
    title: str
    lacks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Gaps:
    """Minutes saved, gaps by system, tests of its systems nobody records, cases that lack facts."""

    saved: Saved | None
    systems: tuple[SystemGap, ...]
    unrecorded: tuple[str, ...]
    missing: tuple[Missing, ...]


def gaps(cases: Iterable[Case], trade: Trade) -> Gaps:
    """The gaps of a shop's memory; nothing is missing of no cases."""
    held = list(cases)
    found = sightings(held, trade)
    return Gaps(saved(found), _systems(held, found, trade), _unrecorded(held, found, trade), _missing(held))


def saved(found: Sequence[Sighting]) -> Saved | None:
    """Minutes saved a job, systems weighed by their late jobs; None under twelve jobs of one."""
    by_system: defaultdict[str, list[float]] = defaultdict(list)
    for one in found:
        if one.case.labour.diagnosis_min > 0 and one.when is not None:
            by_system[one.names.get("system", "")].append(one.case.labour.diagnosis_min)
    pairs = [_ends(held) for held in by_system.values() if int(EARLY * len(held)) >= FEWEST]
    jobs = sum(count for _, _, count in pairs)
    if not jobs:
        return None
    early = sum(first * count for first, _, count in pairs) / jobs
    late = sum(last * count for _, last, count in pairs) / jobs
    return Saved(early - late, early, late, jobs)


def _ends(minutes: Sequence[float]) -> tuple[float, float, int]:
    quarter = int(EARLY * len(minutes))
    return float(median(minutes[:quarter])), float(median(minutes[-quarter:])), quarter


def _systems(held: Iterable[Case], found: Iterable[Sighting], trade: Trade) -> tuple[SystemGap, ...]:
    """Systems first suspected in complaints, where under half as many cases have a cause in them."""
    closed = Counter(one.names.get("system", "") for one in found)
    suspected = Counter(_suspect(case, trade) for case in held)
    rows = [
        SystemGap(system, trade.systems[system].title, count, closed[system])
        for system, count in suspected.items()
        if system in trade.systems and count >= FEWEST and closed[system] < 0.5 * count
    ]
    return tuple(sorted(rows, key=lambda row: (row.closed - row.complaints, row.system)))


def _suspect(case: Case, trade: Trade) -> str:
    listed = (trade.symptoms[id].systems[:1] for id in case.complaint.symptoms if id in trade.symptoms)
    return next((system for systems in listed for system in systems), case.cause_system or "")


def _unrecorded(held: Iterable[Case], found: Iterable[Sighting], trade: Trade) -> tuple[str, ...]:
    """Confirming tests of causes found here that no case records, those of the commonest causes first."""
    done = {test.test for case in held for test in case.complaint.tests}
    wanted = Counter(
        trade.causes[one.case.cause or ""].confirm_test
        for one in found
        if (one.case.cause or "") in trade.causes
    )
    return tuple(test for test, _ in wanted.most_common() if test and test not in done)[:UNRECORDED]


def _missing(held: Iterable[Case]) -> tuple[Missing, ...]:
    """Closed cases that lack facts, the most lacking first."""
    rows = [Missing(case.id, case.title, lacking) for case in held if (lacking := lacks(case))]
    return tuple(sorted(rows, key=lambda row: (-len(row.lacks), row.case))[:MOST])


def lacks(case: Case) -> tuple[str, ...]:
    """Which of `FACTS` a closed case lacks; none of any other."""
    if case.state != "closed":
        return ()
    there = (
        case.correction is not None,
        case.verified or bool(case.verification),
        case.labour.diagnosis_min > 0,
        bool(case.complaint.vehicle.model),
        case.complaint.vehicle.odometer is not None,
    )
    return tuple(name for name, known in zip(FACTS, there, strict=True) if not known)
