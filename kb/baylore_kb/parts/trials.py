"""Collect what became of every part that was fitted."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from baylore_kb.parts.cars import faulty_component, run_of
from baylore_kb.parts.life import Run
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case, PartTried, SourceKind
from baylore_kb.visits import Visits, visits_by_case


@dataclass(slots=True)
class Trials:
    """Counts for one component from one source.

    `elsewhere` are fittings without change where the fault proved to lie in another
    part: they tell of the diagnosis, not of the part. `open` have no result yet.
    `runs` are distances of fitted parts whose car was seen again.
    """

    cured: int = 0
    partly: int = 0
    no_change: int = 0
    failed_later: int = 0
    elsewhere: int = 0
    open: int = 0
    prices: list[float] = field(default_factory=list)
    minutes: list[float] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)

    @property
    def tried(self) -> int:
        """All fittings, with or without a result."""
        return self.cured + self.partly + self.no_change + self.failed_later + self.open

    @property
    def failed(self) -> int:
        """Fittings that count against the part."""
        return self.partly + self.no_change + self.failed_later - self.elsewhere

    @property
    def judged(self) -> int:
        """Fittings that say something about the part."""
        return self.cured + self.failed


ByComponent = dict[str, dict[SourceKind, Trials]]


def trials(cases: Iterable[Case], trade: Trade) -> ByComponent:
    """Trials by component and source kind; each case once, empty for no parts."""
    by_id = {case.id: case for case in cases}
    visits = visits_by_case(by_id.values())
    found: ByComponent = defaultdict(lambda: defaultdict(Trials))
    for case in by_id.values():
        for part in case.complaint.parts:
            held = found[part.component][part.source]
            _count(held, part, case, by_id=by_id, trade=trade)
            _follow(held, part, case, visits=visits, trade=trade)
    return {component: dict(sorted(sources.items())) for component, sources in sorted(found.items())}


def _follow(held: Trials, part: PartTried, case: Case, *, visits: Visits, trade: Trade) -> None:
    """Keep how far a part ran that worked when it was fitted."""
    run = run_of(part, case, visits, trade) if part.result in ("cured", "failed later") else None
    if run is not None:
        held.runs.append(run)


def _count(held: Trials, part: PartTried, case: Case, *, by_id: Mapping[str, Case], trade: Trade) -> None:
    if part.price is not None:
        held.prices.append(part.price)
    if part.result is None:
        held.open += 1
    elif part.result == "cured":
        _count_cured(held, part, case, by_id=by_id, trade=trade)
    elif part.result == "partly":
        held.partly += 1
    elif part.result == "failed later":
        held.failed_later += 1
    else:
        held.no_change += 1
        held.elsewhere += _lay_elsewhere(part, case, trade)


def _count_cured(
    held: Trials, part: PartTried, case: Case, *, by_id: Mapping[str, Case], trade: Trade
) -> None:
    if _came_back(part, case, by_id, trade):
        held.failed_later += 1
        return
    held.cured += 1
    fittings = sum(other.component == part.component for other in case.complaint.parts)
    if case.labour.repair_min > 0:
        held.minutes.append(case.labour.repair_min / fittings)


def _came_back(part: PartTried, case: Case, by_id: Mapping[str, Case], trade: Trade) -> bool:
    """Whether the car returned and the same component was found at fault."""
    returned = (by_id[name] for name in case.returned_as if name in by_id)
    return any(faulty_component(later, trade) == part.component for later in returned)


def _lay_elsewhere(part: PartTried, case: Case, trade: Trade) -> bool:
    at_fault = faulty_component(case, trade)
    return case.state == "closed" and at_fault is not None and at_fault != part.component
