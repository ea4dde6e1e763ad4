"""What this shop keeps finding on a model, told before the first test so that it does not bias the job."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from baylore_kb.casedoc import system_title
from baylore_kb.recurrence.sightings import counts, sighting
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

TOP = 3
FEWEST = 2


@dataclass(frozen=True, slots=True)
class Watch:
    """A part found at fault on a model `found` times, of `jobs` jobs in its system there.

    `not_it` is the share of those jobs in which it was something else, in [0, 1].
    """

    component: str
    title: str
    system: str
    found: int
    jobs: int
    not_it: float
    says: str


def watch_list(cases: Iterable[Case], model: str, trade: Trade) -> tuple[Watch, ...]:
    """The three parts most often at fault on `model` ("make model", case ignored), seen twice or more."""
    wanted = model.casefold().strip()
    by_system: defaultdict[str, Counter[str]] = defaultdict(Counter)
    for case in cases:
        vehicle = case.complaint.vehicle
        if counts(case) and f"{vehicle.make} {vehicle.model}".strip().casefold() == wanted:
            names = sighting(case, trade).names
            by_system[names.get("system", "")][names.get("component", "")] += 1
    found = [_watch(system, held, trade) for system, held in by_system.items() if system]
    every = [each for some in found for each in some]
    return tuple(sorted(every, key=lambda one: (-one.found, one.component))[:TOP])


def _watch(system: str, held: Counter[str], trade: Trade) -> list[Watch]:
    jobs = held.total()
    return [
        _row(component, system, (found, jobs), trade)
        for component, found in held.items()
        if component and found >= FEWEST
    ]


def _row(component: str, system: str, seen: tuple[int, int], trade: Trade) -> Watch:
    found, jobs = seen
    title = trade.components[component].title if component in trade.components else component
    where = system_title(system, trade)
    other = jobs - found
    says = (
        f"{title}: the cause in {found} of {jobs} jobs here on this model under {where}; "
        f"in {other} it was something else. Confirm it before fitting anything."
    )
    return Watch(component, title, system, found, jobs, other / jobs, says)
