"""What parts fitted and repairs done say: the fault stays there, lies elsewhere, or was one of two.

The chances below are common practice in independent shops, no published source.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from baylore_kb.causes.beliefs import Bools, Floats
from baylore_kb.causes.columns import Columns
from baylore_kb.values import Complaint, PartTried, RepairTried


class Worth(NamedTuple):
    """Chances that a mend of the right cause is dead (or misfitted), only half works, or fails later."""

    dead: float
    half: float
    later: float

    @property
    def works(self) -> float:
        """Chance that it cures for good."""
        return 1.0 - self.dead - self.half - self.later


SOURCES = {
    "maker": Worth(0.015, 0.01, 0.02),
    "own stock": Worth(0.03, 0.03, 0.04),
    "aftermarket": Worth(0.05, 0.08, 0.08),
    "rebuilt": Worth(0.05, 0.06, 0.10),
    "used": Worth(0.07, 0.08, 0.10),
}
REPAIR = Worth(0.06, 0.12, 0.0)
# Results of a mend that is not the cause at all: chance, a disturbed connector, a fault that rests.
ELSEWHERE = {"no change": 0.86, "partly": 0.06, "failed later": 0.03, "cured": 0.05}
ELSEWHERE_COMES_AND_GOES = {"no change": 0.55, "partly": 0.10, "failed later": 0.15, "cured": 0.20}
# A car of ten years and more may have a second fault behind the same complaint, and mending the first shows.
SECOND_FAULT = 0.12
TWO_SHOW_AS = {"no change": 0.6, "partly": 0.4}


@dataclass(frozen=True, slots=True)
class Tried:
    """A part or repair with a result. `hit` (N): the causes it mends.

    `stays`, `elsewhere` and `second` are P(result | the fault is hit and still there), P(result | it lies
    elsewhere) and P(result | a hit fault is mended and another stays). `what` is the component or the cause,
    `source` empty for a repair.
    """

    label: str
    what: str
    title: str
    result: str
    source: str
    hit: Bools
    stays: float
    elsewhere: float
    second: float

    @property
    def log(self) -> Floats:
        """(N) log P(result | cause) as if there were one fault."""
        return np.log(np.where(self.hit, self.stays, self.elsewhere))


def of_tried(complaint: Complaint, columns: Columns, *, comes_and_goes: bool) -> tuple[Tried, ...]:
    """Parts, then repairs, that have a result and mend a cause in question; the rest says nothing."""
    usual = ELSEWHERE_COMES_AND_GOES if comes_and_goes else ELSEWHERE
    found = [*_parts(complaint.parts, columns, usual), *_repairs(complaint.repairs, columns, usual)]
    return tuple(each for each in found if each.hit.any())


def _parts(parts: Iterable[PartTried], columns: Columns, usual: dict[str, float]) -> Iterable[Tried]:
    for part in parts:
        component = columns.beliefs.trade.components.get(part.component)
        if part.result is None or component is None:
            continue
        stays, second = _chances(SOURCES[part.source], part.result)
        yield Tried(
            label=f"New {component.title} ({part.source}): {part.result}",
            what=component.id,
            title=component.title,
            result=part.result,
            source=part.source,
            hit=columns.of_component(component.id),
            stays=stays,
            elsewhere=usual[part.result],
            second=second,
        )


def _repairs(repairs: Iterable[RepairTried], columns: Columns, usual: dict[str, float]) -> Iterable[Tried]:
    for repair in repairs:
        stays, second = _chances(REPAIR, repair.result)
        title = columns.title(repair.cause)
        yield Tried(
            label=f"Repair without a part, {title}: {repair.result}",
            what=repair.cause,
            title=title,
            result=repair.result,
            source="",
            hit=columns.only(repair.cause),
            stays=stays,
            elsewhere=usual[repair.result],
            second=second,
        )


def _chances(worth: Worth, result: str) -> tuple[float, float]:
    """P(result | hit, still there) and P(result | hit and mended, another stays)."""
    stays = {"no change": worth.dead, "partly": worth.half, "failed later": worth.later, "cured": worth.works}
    return stays[result], SECOND_FAULT * worth.works * TWO_SHOW_AS.get(result, 0.0)
