"""The part source a shop's memory favours for each component, told anew where its cases changed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from operator import is_
from weakref import WeakKeyDictionary

import numpy as np
import numpy.typing as npt

from baylore_kb.index import Snapshot
from baylore_kb.lexicon import WordBook
from baylore_kb.parts import best_source
from baylore_kb.plan.mends import PartWay
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case, Terms


@dataclass(frozen=True, slots=True)
class Told:
    """What some cases told of the parts of a component, under these terms and lists.

    They lie in an array, which the collector of garbage does not walk through.
    """

    cases: npt.NDArray[np.object_]
    terms: Terms
    trade: Trade
    way: PartWay | None

    def still_holds(self, cases: Sequence[Case], terms: Terms, trade: Trade) -> bool:
        """Whether the very same cases would be asked again."""
        asked_alike = self.terms == terms and self.trade is trade
        return asked_alike and len(cases) == len(self.cases) and all(map(is_, cases, self.cases))


# By what all snapshots of a shop have in common: what was told lately of each component.
_LATELY: WeakKeyDictionary[WordBook, dict[str, Told]] = WeakKeyDictionary()


class PartMemory:
    """What a snapshot's cases tell of the parts of each component."""

    def __init__(self, snapshot: Snapshot) -> None:
        self._snapshot = snapshot
        self._lately = _LATELY.setdefault(snapshot.reader.book, {})
        self._ways: dict[tuple[str, Terms], PartWay | None] = {}

    def way(self, component: str, terms: Terms) -> PartWay | None:
        """The favoured source and its expected money; None when no part of it was ever fitted."""
        if (component, terms) not in self._ways:
            self._ways[component, terms] = self._told(component, terms)
        return self._ways[component, terms]

    def _told(self, component: str, terms: Terms) -> PartWay | None:
        cases, trade = self._snapshot.part_cases(component), self._snapshot.trade
        lately = self._lately.get(component)
        if lately is not None and lately.still_holds(cases, terms, trade):
            return lately.way
        best = best_source(cases, component, terms=terms, trade=trade)
        way = PartWay(best.source, best.expected_cost) if best else None
        self._lately[component] = Told(np.array(cases, dtype=np.object_), terms, trade, way)
        return way


@lru_cache(maxsize=2)
def _memory_of(snapshot: Snapshot) -> PartMemory:
    """The part memory of a snapshot, made once; the last two are kept."""
    return PartMemory(snapshot)


def part_ways(snapshot: Snapshot, components: Iterable[str], *, terms: Terms) -> dict[str, PartWay]:
    """The favoured source of each component that the shop has fitted before."""
    memory = _memory_of(snapshot)
    found = ((component, memory.way(component, terms)) for component in components)
    return {component: way for component, way in found if way is not None}
