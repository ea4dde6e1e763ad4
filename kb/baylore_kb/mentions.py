"""Components named in a text, by their titles, their trade names and abbreviations."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

from baylore_kb.text import Analysis, Analyzer
from baylore_kb.trade.model import Component, Trade

_LONGEST_NAME = 4
# A word that stands for many parts ("motor") says little about each.
_MOST_OWNERS = 6


@dataclass(frozen=True, slots=True)
class Mentioned:
    """A component and how surely the text names it, in (0, 1]."""

    component: str
    weight: float


class Mentions:
    """The names of the trade's components, ready for finding."""

    def __init__(self, trade: Trade, analyzer: Analyzer) -> None:
        self._components = trade.components
        self._owners: dict[tuple[str, ...], set[str]] = defaultdict(set)
        for component in trade.components.values():
            for name in _names(component):
                self._owners[analyzer.analyze(name).stems].add(component.id)
        self._owners.pop((), None)

    def find(self, analysis: Analysis) -> tuple[Mentioned, ...]:
        """Components named, heaviest first; a longer name and fewer owners weigh more. None gives ()."""
        weights: dict[str, float] = {}
        for key in _runs(analysis.stems):
            owners = self._owners.get(key, ())
            if 0 < len(owners) <= _MOST_OWNERS:
                for owner in owners:
                    weights[owner] = max(weights.get(owner, 0.0), (1.0 - 0.4 / len(key)) / len(owners))
        for expansion in analysis.expansions:
            meant = expansion.refers_to
            if meant is not None and meant in self._components:
                weights[meant] = max(weights.get(meant, 0.0), 0.8)
        ranked = sorted(weights.items(), key=lambda pair: (-pair[1], pair[0]))
        return tuple(Mentioned(component, weight) for component, weight in ranked)


def _names(component: Component) -> Iterator[str]:
    yield component.title
    yield from component.also


def _runs(stems: tuple[str, ...]) -> Iterator[tuple[str, ...]]:
    for at in range(len(stems)):
        for size in range(1, min(_LONGEST_NAME, len(stems) - at) + 1):
            yield stems[at : at + size]
