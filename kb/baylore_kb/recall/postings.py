"""Postings: which documents hold which terms, and the best of them for a question. Knows only numbers."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import reduce
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from baylore_kb.recall.fresh import Fresh, Mask, Row
from baylore_kb.recall.kernels import Kernels, kernels
from baylore_kb.recall.layout import NO_SAMPLE, Ints, Longs, Rows, Sample, impacts
from baylore_kb.recall.part import Part, joined
from baylore_kb.recall.plain import Floats, whole

# Fresh documents cost a question more than those laid out: so many wait for a merge.
FRESH = 256
_WEIGHED_AT_ONCE = 1 << 20
_NONE = np.zeros(0, dtype=np.int32)


class Documents(NamedTuple):
    """Many documents: the distinct terms of one after the other with their weights, and where each ends."""

    terms: Ints
    weights: npt.NDArray[np.number]
    ends: Longs
    lengths: npt.NDArray[np.number]


class Weighed(NamedTuple):
    """Distinct terms with whole weights; a score is `scale` times the sum of weight times impact."""

    terms: Ints
    weights: Ints
    scale: float


@dataclass(frozen=True, slots=True, eq=False)
class Postings:
    """Documents numbered in the order they came; numbers stay for good and are not given again.

    Immutable: `with_changes` and `merged` give the next value and leave this one right, so a question on
    another thread is never disturbed. One thread at a time makes the next value. `held` counts for each term
    the documents that hold it, but for fresh ones; the dead count until they are merged away.
    """

    kernels: Kernels
    parts: tuple[Part, ...] = ()
    fresh: tuple[Fresh, ...] = ()
    next: int = 0
    living: int = 0
    length: float = 0.0
    held: Ints = field(default_factory=_NONE.copy)
    sample: Sample = NO_SAMPLE

    @staticmethod
    def none(*, compile: bool | None = None) -> Postings:
        """No documents; see `kernels` for `compile`."""
        return Postings(kernels(compile=compile))

    @staticmethod
    def of(documents: Documents, *, compile: bool | None = None) -> Postings:
        """These documents, numbered from 0."""
        return Postings.none(compile=compile)._with_many(documents)

    @staticmethod
    def of_parts(parts: Sequence[Part], *, compile: bool | None = None) -> Postings:
        """The postings of saved parts, whose numbers ascend."""
        lengths = [part.segment.lengths[part.alive > 0] for part in parts]
        return replace(
            Postings.none(compile=compile)._of(tuple(parts), ()),
            next=max((int(part.order[-1]) + 1 for part in parts if part.size), default=0),
            living=sum(map(len, lengths)),
            length=float(sum(each.sum(dtype=np.float64) for each in lengths)),
        )

    def __len__(self) -> int:
        return self.living

    @property
    def mean_length(self) -> float:
        """Mean length of the living documents, 1 for none."""
        return self.length / self.living if self.living and self.length > 0 else 1.0

    @property
    def nbytes(self) -> int:
        """Bytes of all arrays but those of the fresh documents."""
        return self.held.nbytes + sum(part.nbytes for part in self.parts)

    @property
    def due(self) -> bool:
        """Whether `merged` pays: many fresh documents, or most of all are dead."""
        laid = sum(part.size for part in self.parts)
        return bool(self.fresh and self.fresh[0].size >= FRESH) or laid > 2 * self.living + FRESH

    def counts(self, terms: Ints) -> Ints:
        """How many documents hold each of these terms; 0 for terms never seen."""
        inside = np.minimum(terms, max(len(self.held) - 1, 0))
        laid = np.where(terms < len(self.held), self.held[inside] if len(self.held) else 0, 0)
        return np.asarray(laid + self._fresh_counts(terms) if self.fresh else laid, dtype=np.int32)

    def _fresh_counts(self, terms: Ints) -> Ints:
        if not self.fresh:
            return _NONE
        counts = [sum(few.count(term) for few in self.fresh) for term in terms.tolist()]
        return np.asarray(counts, dtype=np.int32)

    def weighed(self, terms: Ints, uses: Floats) -> Weighed:
        """What each distinct term of a question says here: its use times idf, less for company it keeps."""
        weights, scale = self.kernels.weigh(
            terms,
            uses,
            (self.held, self._fresh_counts(terms)),
            living=self.living,
            sample=self.sample,
        )
        return Weighed(terms, weights, scale)

    def best(
        self, asked: Weighed | Mapping[int, float], k: int, *, allowed: Mask | None = None
    ) -> tuple[Longs, Floats]:
        """The `k` living documents of the highest scores: numbers and scores, best first, ties by number.

        A score sums weight times impact; documents of score 0 stay out. A mapping gives each term its weight,
        0 or more. `allowed` tells for each number up to `next` whether it may be found.
        Raises ValueError for a negative weight, one that is no number, or an `allowed` too short.
        """
        question = asked if isinstance(asked, Weighed) else _of_mapping(asked)
        if allowed is not None and len(allowed) < self.next:
            raise ValueError(
                f"allowed holds {len(allowed)} documents of {self.next}: give one entry a number"
            )
        if len(self.parts) == 1 and not self.fresh:
            numbers, sums = self._of_part(self.parts[0], question, k, allowed=allowed)
            return numbers, np.asarray(sums * question.scale, dtype=np.float64)
        return self._of_all(question, k, allowed=allowed)

    def _of_part(self, part: Part, question: Weighed, k: int, *, allowed: Mask | None) -> tuple[Longs, Ints]:
        alive = part.alive if allowed is None else part.alive * allowed[part.order].astype(np.uint8)
        found, sums = self.kernels.best(part.segment, alive, (question.terms, question.weights), k)
        return part.order[found], sums

    def _of_all(self, question: Weighed, k: int, *, allowed: Mask | None) -> tuple[Longs, Floats]:
        hits: list[tuple[int, int]] = []
        for part in self.parts:
            numbers, sums = self._of_part(part, question, k, allowed=allowed)
            hits += zip((-sums).tolist(), numbers.tolist(), strict=True)
        terms, weights = question.terms.tolist(), question.weights.tolist()
        for few in self.fresh:
            hits += few.best(terms, weights, k, allowed=allowed)
        hits = sorted(hits)[: max(k, 0)]
        numbers = np.asarray([number for _, number in hits], dtype=np.int64)
        return numbers, np.asarray([-value for value, _ in hits], dtype=np.float64) * question.scale

    def with_changes(self, *, put: Sequence[Row] = (), deleted: Iterable[int] = ()) -> Postings:
        """The value after documents came and went; those put get the numbers from `next` on, in order.

        Deleted numbers that are not there are passed over.
        """
        gone = sorted(deleted)
        rest = self._without(gone) if gone else self
        if len(put) > FRESH:
            return rest._with_many(_flat(put))
        return reduce(Postings._with_one, put, rest)

    def _with_one(self, row: Row) -> Postings:
        full = not self.fresh or self.fresh[-1].size >= FRESH
        last = Fresh.of(self.mean_length) if full else self.fresh[-1]
        return replace(
            self,
            fresh=(*(self.fresh if full else self.fresh[:-1]), last.added(row, self.next)),
            next=self.next + 1,
            living=self.living + 1,
            length=self.length + float(row.length),
        )

    def _with_many(self, documents: Documents) -> Postings:
        lengths = np.asarray(documents.lengths, dtype=np.float32)
        total = float(lengths.sum(dtype=np.float64))
        pivot = total / len(lengths) if total > 0 else 1.0
        rows = Rows(documents.terms, _impacts(documents, pivot), documents.ends, lengths)
        order = np.arange(self.next, self.next + len(lengths), dtype=np.int64)
        new = (Part.of(rows, order, self.kernels),) if len(lengths) else ()
        return replace(
            self._of((*self.parts, *self._laid_fresh(), *new), ()),
            next=self.next + len(lengths),
            living=self.living + len(lengths),
            length=self.length + total,
        )

    def _without(self, gone: Sequence[int]) -> Postings:
        numbers = np.asarray(gone, dtype=np.int64)
        parts, lengths = [], [0.0]
        for part in self.parts:
            kept, lost = part.without(numbers)
            parts.append(kept)
            lengths += lost.tolist()
        fresh = []
        for few in self.fresh:
            left, lost_fresh = few.without(gone)
            fresh.append(left)
            lengths += lost_fresh
        return replace(
            self,
            parts=tuple(parts),
            fresh=tuple(fresh),
            living=self.living - len(lengths) + 1,
            length=self.length - sum(lengths),
        )

    def merged(self) -> Postings:
        """The same documents with the fresh ones laid out, small parts joined, the dead left out of these.

        Takes time in the number of documents now and then; this value answers meanwhile, and `caught_up`
        brings what changed since.
        """
        return self._of(joined((*self.parts, *self._laid_fresh()), self.kernels), ())

    def caught_up(self, before: Postings, after: Postings) -> Postings:
        """This, which was merged from `before`, with what `after` changed in `before` since."""
        if after is before:
            return self
        later = [part.since(before.next) for part in after.parts[len(before.parts) :]]
        kept = self._without(_died(before, after))
        fresh = [few.since(before.next) for few in after.fresh]
        changed = self._of((*kept.parts, *later), tuple(few for few in fresh if few.size > few.first))
        return replace(changed, next=after.next, living=after.living, length=after.length)

    def _laid_fresh(self) -> list[Part]:
        laid = [Part.of(*few.rows(), self.kernels) for few in self.fresh]
        return [part for part in laid if part.size]

    def _of(self, parts: tuple[Part, ...], fresh: tuple[Fresh, ...]) -> Postings:
        held = np.zeros(max((len(part.segment.count) for part in parts), default=0), dtype=np.int32)
        for part in parts:
            held[: len(part.segment.count)] += part.segment.count
        largest = max(parts, key=lambda part: part.size, default=None)
        return replace(
            self, parts=parts, fresh=fresh, held=held, sample=largest.sample if largest else NO_SAMPLE
        )


def _died(before: Postings, after: Postings) -> list[int]:
    """Numbers of documents of `before` that are dead in `after`."""
    found: list[int] = []
    for old, new in zip(before.parts, after.parts, strict=False):
        if old.alive is not new.alive:
            found += old.order[old.alive != new.alive].tolist()
    for part in after.parts[len(before.parts) :]:
        found += part.order[part.alive == 0].tolist()
    for few in after.fresh:
        found += few.dead()
    return sorted(found)


def _of_mapping(asked: Mapping[int, float]) -> Weighed:
    weights = np.array(list(asked.values()), dtype=np.float64)
    if not (np.isfinite(weights) & (weights >= 0)).all():
        raise ValueError(f"weights must be 0 or more, not {weights.tolist()}: leave such terms out")
    return Weighed(np.array(list(asked), dtype=np.int32), *whole(weights))


def _flat(rows: Sequence[Row]) -> Documents:
    return Documents(
        np.concatenate([row.terms for row in rows]).astype(np.int32),
        np.concatenate([row.weights for row in rows]),
        np.cumsum([len(row.terms) for row in rows], dtype=np.int64),
        np.asarray([row.length for row in rows], dtype=np.float32),
    )


def _impacts(documents: Documents, pivot: float) -> npt.NDArray[np.uint8]:
    """In runs: whole numbers of so many terms would need far more memory than the bytes kept."""
    ends, found = documents.ends, np.empty(len(documents.terms), dtype=np.uint8)
    for a in range(0, len(found), _WEIGHED_AT_ONCE):
        b = min(a + _WEIGHED_AT_ONCE, len(found))
        first, last = np.searchsorted(ends, (a, b - 1), side="right").tolist()
        bounds = np.concatenate(([a], np.clip(ends[first : last + 1], a, b)))
        held = bounds[1:] - bounds[:-1]
        owners = np.repeat(documents.lengths[first : last + 1], held)
        found[a:b] = impacts(documents.weights[a:b], owners, pivot)
    return found
