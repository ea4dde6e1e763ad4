"""The part source a shop's memory favours, looked up once for each component of a snapshot."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import lru_cache

from baylore_kb.index import Snapshot
from baylore_kb.parts import best_source
from baylore_kb.plan.mends import PartWay
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case, Terms


class PartMemory:
    """What a snapshot's cases tell of the parts of each component."""

    def __init__(self, cases: Mapping[str, Case]) -> None:
        self._cases: dict[str, dict[str, Case]] = {}
        for case in cases.values():
            for part in case.complaint.parts:
                held = self._cases.setdefault(part.component, {})
                held.update((id, cases[id]) for id in (case.id, *case.returned_as) if id in cases)
        self._ways: dict[tuple[str, Terms], PartWay | None] = {}

    def way(self, component: str, terms: Terms, trade: Trade) -> PartWay | None:
        """The favoured source and its expected money; None when no part of it was ever fitted."""
        if component not in self._cases:
            return None
        if (component, terms) not in self._ways:
            best = best_source(self._cases[component].values(), component, terms=terms, trade=trade)
            self._ways[component, terms] = PartWay(best.source, best.expected_cost) if best else None
        return self._ways[component, terms]


@lru_cache(maxsize=2)
def part_memory(snapshot: Snapshot) -> PartMemory:
    """The part memory of a snapshot, made once; the last two are kept."""
    return PartMemory(snapshot.part_cases)


def part_ways(
    snapshot: Snapshot, components: Iterable[str], *, terms: Terms, trade: Trade
) -> dict[str, PartWay]:
    """The favoured source of each component that the shop has fitted before."""
    memory = part_memory(snapshot)
    found = ((component, memory.way(component, terms, trade)) for component in components)
    return {component: way for component, way in found if way is not None}
