"""A run of case documents with its postings: immutable, joined with its neighbour when both are small."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from baylore_kb.casedoc import GONE, CaseDoc
from baylore_kb.lexicon import Numbers
from baylore_kb.together import level, level_of

Weights = npt.NDArray[np.float32]
Mask = npt.NDArray[np.bool_]
_NONE = np.zeros(0, dtype=np.int32)
_NO_WEIGHTS = np.zeros(0, dtype=np.float32)
# Joining more than this at once would keep a question waiting.
MOST_JOINED = 512


@dataclass(frozen=True, slots=True, eq=False)
class Postings:
    """For each number the documents that hold it, ascending, with a weight each."""

    keys: Numbers
    starts: npt.NDArray[np.int64]
    documents: Numbers
    weights: Weights

    @staticmethod
    def of(rows: Sequence[Numbers], weights: Sequence[Weights] | None = None, *, first: int) -> Postings:
        """Postings of rows of numbers; the first row is document `first`. No rows give empty postings."""
        if not rows:
            return Postings(_NONE, np.zeros(1, dtype=np.int64), _NONE, _NO_WEIGHTS)
        numbers = np.concatenate(rows)
        owners = np.repeat(np.arange(first, first + len(rows), dtype=np.int32), [len(row) for row in rows])
        order = np.argsort(numbers, kind="stable")
        keys, starts = np.unique(numbers[order], return_index=True)
        values = np.concatenate(weights)[order] if weights is not None else _NO_WEIGHTS
        return Postings(keys, np.append(starts, len(numbers)).astype(np.int64), owners[order], values)

    def at(self, numbers: Sequence[int]) -> list[slice]:
        """Where the postings of each number lie; an empty slice for one not held."""
        if not len(self.keys):
            return [slice(0, 0)] * len(numbers)
        places = np.searchsorted(self.keys, numbers)
        held = np.take(self.keys, places, mode="clip") == numbers
        first, behind = np.where(held, places, 0), np.where(held, places + 1, 0)
        return list(map(slice, self.starts[first].tolist(), self.starts[behind].tolist()))


@dataclass(frozen=True, slots=True, eq=False)
class Sample:
    """Some documents of a segment, chosen by their ids alone, and which terms each holds.

    `columns` are their numbers in the snapshot, `levels` how far each stays in smaller samples.
    """

    columns: Numbers
    levels: npt.NDArray[np.int8]
    terms: Postings

    @staticmethod
    def of(docs: Sequence[CaseDoc], *, first: int) -> Sample:
        """The sample of these documents: enough also when a third of them have been deleted."""
        levels = [level_of(doc.case.id) for doc in docs]
        least = level(len(docs) // 2)
        chosen = [n for n, each in enumerate(levels) if each >= least and docs[n] is not GONE]
        return Sample(
            np.asarray(chosen, dtype=np.int32) + np.int32(first),
            np.asarray([levels[n] for n in chosen], dtype=np.int8),
            Postings.of([docs[n].terms for n in chosen], first=0),
        )

    def presence(self, numbers: Sequence[int], alive: Mask, least: int) -> npt.NDArray[np.float32]:
        """A row for each term, a column for each living document of at least this level; 1 where held."""
        present = np.zeros((len(numbers), len(self.columns)), dtype=np.float32)
        for row, held in zip(present, self.terms.at(numbers), strict=True):
            row[self.terms.documents[held]] = 1.0
        wanted = alive[self.columns] & (self.levels >= least)
        return present if wanted.all() else present[:, wanted]


@dataclass(frozen=True, slots=True, eq=False)
class Segment:
    """Documents `first` to `first + len(docs) - 1` of a snapshot.

    `facets` and `fitted` give the numbers of those with a facet, and with a part of a component.
    """

    first: int
    docs: tuple[CaseDoc, ...]
    terms: Postings
    lengths: Weights
    facets: Mapping[str, Numbers]
    fitted: Mapping[str, Numbers]
    sample: Sample

    @staticmethod
    def of(docs: Sequence[CaseDoc], *, first: int) -> Segment:
        """A segment of these documents, numbered from `first`."""
        return Segment(
            first,
            tuple(docs),
            Postings.of([doc.terms for doc in docs], [doc.weights for doc in docs], first=first),
            np.asarray([doc.length for doc in docs], dtype=np.float32),
            _numbered((doc.facets for doc in docs), first=first),
            _numbered(({part.component for part in doc.case.complaint.parts} for doc in docs), first=first),
            Sample.of(docs, first=first),
        )

    def holding(self, words: Iterable[int | None]) -> set[int]:
        """Places in `docs` of the documents that hold all these words; no words are held by all."""
        flat = np.concatenate([doc.words for doc in self.docs])
        owners = np.repeat(np.arange(len(self.docs)), [len(doc.words) for doc in self.docs])
        found = set(range(len(self.docs)))
        for word in words:
            found &= set(owners[flat == (-1 if word is None else word)].tolist())
        return found


def _numbered(names: Iterable[Iterable[str]], *, first: int) -> dict[str, Numbers]:
    """For each name the documents that have it, ascending; the names of each are told once."""
    found: dict[str, list[int]] = defaultdict(list)
    for number, told in enumerate(names, first):
        for name in told:
            found[name].append(number)
    return {name: np.asarray(numbers, dtype=np.int32) for name, numbers in found.items()}


def appended(segments: tuple[Segment, ...], docs: Sequence[CaseDoc]) -> tuple[Segment, ...]:
    """The segments with new documents at the end; small ones at least halve from one to the next.

    Joining neighbours of like size keeps their count low and the work per added case small; what is too
    large to be joined while somebody waits stays for `joined`.
    """
    if not docs:
        return segments
    kept, fresh = list(segments), list(docs)
    while kept and len(kept[-1].docs) < 2 * len(fresh) and len(kept[-1].docs) + len(fresh) <= MOST_JOINED:
        fresh = [*kept.pop().docs, *fresh]
    return (*kept, Segment.of(fresh, first=_end(kept)))


def joined(segments: Sequence[Segment]) -> tuple[Segment, ...]:
    """The same documents in segments that at least halve from one to the next."""
    kept: list[Segment] = []
    for segment in segments:
        fresh, first = list(segment.docs), segment.first
        while kept and len(kept[-1].docs) < 2 * len(fresh):
            last = kept.pop()
            fresh, first = [*last.docs, *fresh], last.first
        same = len(fresh) == len(segment.docs)
        kept.append(segment if same else Segment.of(fresh, first=first))
    return tuple(kept)


def dead_held(segments: Iterable[Segment], alive: Mask) -> int:
    """How many dead documents still hold what they held."""
    return sum(len(_dead(segment, alive)) for segment in segments)


def swept(segments: Iterable[Segment], alive: Mask) -> tuple[Segment, ...]:
    """The same segments with `GONE` in the place of each dead document; all numbers stay."""
    return tuple(_swept(segment, _dead(segment, alive)) for segment in segments)


def _dead(segment: Segment, alive: Mask) -> list[int]:
    """Places of the dead documents that still hold something."""
    places = np.flatnonzero(~alive[segment.first : segment.first + len(segment.docs)])
    return [place for place in places.tolist() if segment.docs[place] is not GONE]


def _swept(segment: Segment, dead: Sequence[int]) -> Segment:
    if not dead:
        return segment
    docs = list(segment.docs)
    for place in dead:
        docs[place] = GONE
    return replace(segment, docs=tuple(docs))


def _end(segments: Iterable[Segment]) -> int:
    return max((segment.first + len(segment.docs) for segment in segments), default=0)
