"""Which cases tell of the parts of a component."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping

from baylore_kb.living import Mask
from baylore_kb.segment import Segment
from baylore_kb.values import Case


def fitted(segments: Iterable[Segment], alive: Mask, component: str) -> Iterator[Case]:
    """The living cases of these segments with a part of the component, in the order of their numbers."""
    for segment in segments:
        numbers = segment.fitted.get(component)
        if numbers is not None:
            yield from (segment.docs[at].case for at in (numbers[alive[numbers]] - segment.first).tolist())


def by_component(cases: Iterable[Case]) -> dict[str, list[Case]]:
    """The cases with a part of each component."""
    found: dict[str, list[Case]] = defaultdict(list)
    for case in cases:
        for component in {part.component for part in case.complaint.parts}:
            found[component].append(case)
    return found


def with_returns(some: Iterable[Case], cases: Mapping[str, Case]) -> list[Case]:
    """These cases and those of `cases` that their cars came back as, each once."""
    held: dict[str, Case] = {}
    for case in some:
        held[case.id] = case
        held.update((id, cases[id]) for id in case.returned_as if id in cases)
    return list(held.values())
