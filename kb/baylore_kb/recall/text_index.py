"""The text index: from words to the ids of the texts that say most of them."""

from __future__ import annotations

import threading
from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import islice
from operator import itemgetter

import numpy as np

from baylore_kb.recall.filing import pack, unpack
from baylore_kb.recall.fresh import Fresh
from baylore_kb.recall.kernels import Kernels, kernels
from baylore_kb.recall.layout import Bytes, Ints, Longs, Rows, Sample, impacts
from baylore_kb.recall.part import Part, merged
from baylore_kb.recall.question import Asked, Known, asked
from baylore_kb.recall.words import Spellings, Words

# Fresh documents cost a question more than merged ones: so many wait for a merge.
FRESH = 256
_READ_AT_ONCE = 8192


_NONE = np.zeros(0, dtype=np.int32)
_NO_SAMPLE = Sample(_NONE, np.zeros((1, 1), dtype=np.uint64), 0)


@dataclass(frozen=True, slots=True)
class State:
    """What a question works on: taken once, it stays whole while others merge.

    `sample` is that of the largest part.
    """

    parts: tuple[Part, ...] = ()
    fresh: tuple[Fresh, ...] = ()
    sample: Sample = _NO_SAMPLE

    @staticmethod
    def of(parts: tuple[Part, ...], fresh: tuple[Fresh, ...] = ()) -> State:
        """The state of these parts."""
        largest = max(parts, key=lambda part: part.size, default=None)
        return State(parts, fresh, largest.sample if largest else _NO_SAMPLE)


@dataclass(slots=True)
class _Merge:
    """A merge under way: what was deleted since it began."""

    deleted: set[int] = field(default_factory=set)


class TextIndex:
    """Finds texts by words: BM25 with weights shared among words that keep coming together, and with
    misspelt words of the question mended to known ones.

    Ids are any hashable values; a later text of the same id takes the place of the earlier. One thread
    writes at a time, any number ask meanwhile; a question never waits for a merge. Document counts still
    count deleted texts until the next merge. `compile` False works without numba (see `kernels`);
    `background` False merges only when `merge` is called.
    """

    def __init__(self, *, compile: bool | None = None, background: bool = True) -> None:
        self._kernels: Kernels = kernels(compile=compile)
        self._background = background
        self._words = Words()
        self._spellings = Spellings()
        self._places: dict[Hashable, int] = {}
        self._counts = np.zeros(0, dtype=np.int32)
        self._next = 0
        self._length = 0
        self._state = State()
        self._lock = threading.RLock()
        self._merging = threading.Lock()
        self._merge: _Merge | None = None

    @classmethod
    def build(
        cls, texts: Iterable[tuple[Hashable, str]], *, compile: bool | None = None, background: bool = True
    ) -> TextIndex:
        """The index of these (id, text) pairs; of two with one id the later counts. No pairs are fine."""
        index = cls(compile=compile, background=background)
        ids, rows = index._read(texts)
        if ids:
            order = np.arange(len(ids), dtype=np.int64)
            part = Part.of(rows, index._words.terms, ids, order=order, kernels=index._kernels)
            index._settle((part,))
            index._spellings = Spellings(tuple(index._words))
        return index

    @classmethod
    def from_bytes(
        cls, data: bytes | memoryview, *, compile: bool | None = None, background: bool = True
    ) -> TextIndex:
        """The index that `to_bytes` saved; raises SavedIndexUnusable for anything else or damaged."""
        words, parts = unpack(data)
        index = cls(compile=compile, background=background)
        index._words = Words(words)
        index._settle(parts)
        index._spellings = Spellings(words)
        return index

    def to_bytes(self) -> bytes:
        """The index as bytes, fresh texts merged first. Ids must be whole numbers or strings."""
        self.merge()
        with self._lock:
            return pack(tuple(self._words), self._state.parts)

    def _read(self, texts: Iterable[tuple[Hashable, str]]) -> tuple[list[Hashable], Rows]:
        """Read in runs, so that the words of few texts are in memory at once."""
        ids: list[Hashable] = []
        terms, counts, ends, lengths = [_NONE], [np.zeros(0, dtype=np.uint8)], [], [_NONE]
        at, rest = 0, iter(texts)
        while run := list(islice(rest, _READ_AT_ONCE)):
            ids += [id for id, _ in run]
            found = self._kernels.distinct(*self._words.read(text for _, text in run), self._words.terms)
            terms.append(found[0])
            counts.append(found[1])
            ends.append(found[2] + at)
            lengths.append(_lengths(found[1], found[2]))
            at += len(found[0])
        return ids, _weighed(terms, counts, ends, np.concatenate(lengths))

    def _settle(self, parts: tuple[Part, ...]) -> None:
        """Take these parts for all there is; the later of two texts with one id counts."""
        for part in parts:
            for place, (id, order) in enumerate(zip(part.ids, part.order.tolist(), strict=True)):
                if id in self._places:
                    self._mark_dead(self._places[id], parts)
                if part.alive[place]:
                    self._places[id] = order
            self._length += int(part.segment.lengths[part.alive > 0].sum(dtype=np.int64))
        self._recount(parts)
        self._next = max((int(part.order[-1]) + 1 for part in parts if part.size), default=0)
        self._state = State.of(parts)

    def _recount(self, parts: Sequence[Part], fresh: Sequence[Fresh] = ()) -> None:
        """Count how many texts hold each term, with room for terms to come."""
        counts = np.zeros(_roomy(self._words.terms), dtype=np.int32)
        for part in parts:
            counts[: len(part.segment.count)] += part.segment.count
        for few in fresh:
            few.count_into(counts)
        self._counts = counts

    def __len__(self) -> int:
        return len(self._places)

    def __contains__(self, id: Hashable) -> bool:
        return id in self._places

    @property
    def nbytes(self) -> int:
        """Bytes of the postings, as the index itself counts them."""
        return sum(
            part.segment.nbytes + part.sample.bits.nbytes + part.alive.nbytes for part in self._state.parts
        )

    @property
    def mean_length(self) -> float:
        """Mean length of the texts in terms, 1 for none."""
        return self._length / len(self._places) if self._places and self._length > 0 else 1.0

    def put(self, id: Hashable, text: str) -> None:
        """Add a text, or write it anew; the next question finds it."""
        with self._lock:
            self._forget(id)
            known = len(self._words)
            flat, ends = self._words.read((text,))
            for word in islice(reversed(self._words), len(self._words) - known):
                self._spellings.add(word)
            terms, counts = np.unique(flat[flat >= 0], return_counts=True)
            if self._words.terms > len(self._counts):
                self._counts = np.pad(self._counts, (0, _roomy(self._words.terms) - len(self._counts)))
            self._counts[terms] += 1
            self._newest().add(id, self._next, terms.astype(np.int32), counts.astype(np.int32))
            self._places[id] = self._next
            self._next += 1
            self._length += int(counts.sum())
        if self._background and len(self._state.fresh[-1]) >= FRESH:
            self._merge_later()

    def delete(self, id: Hashable) -> bool:
        """Take a text out; whether there was one."""
        with self._lock:
            return self._forget(id)

    def _newest(self) -> Fresh:
        state = self._state
        if not state.fresh or len(state.fresh[-1]) >= FRESH:
            self._state = replace(state, fresh=(*state.fresh, Fresh(self.mean_length)))
        return self._state.fresh[-1]

    def _forget(self, id: Hashable) -> bool:
        order = self._places.pop(id, None)
        if order is None:
            return False
        self._length -= self._mark_dead(order, self._state.parts, self._state.fresh)
        if self._merge is not None:
            self._merge.deleted.add(order)
        return True

    @staticmethod
    def _mark_dead(order: int, parts: Sequence[Part], fresh: Sequence[Fresh] = ()) -> int:
        """Mark a document dead where it lies; its length."""
        for part in parts:
            place = part.place(order)
            if place is not None:
                part.alive[place] = 0
                return int(part.segment.lengths[place])
        for few in fresh:
            length = few.kill(order)
            if length is not None:
                return length
        return 0

    def search(self, text: str, k: int = 10) -> list[tuple[Hashable, float]]:
        """The `k` best texts as (id, score), best first, ties by age; none where no word is known."""
        return self.find(self.ask(text), k)

    def ask(self, text: str) -> Asked:
        """The question as it is understood: its terms with weights, and which words were mended to which."""
        state = self._state
        known = Known(self._words, self._spellings, self._counts, len(self._places), state.sample)
        return asked(text, known, self._kernels)

    def find(self, question: Asked, k: int = 10) -> list[tuple[Hashable, float]]:
        """The `k` best texts for a question, as `search` has it."""
        state = self._state
        if len(state.parts) == 1 and not state.fresh:
            return self._of_part(state.parts[0], question, k)
        return self._of_all(state, question, k)

    def _of_part(self, part: Part, question: Asked, k: int) -> list[tuple[Hashable, float]]:
        numbers, sums = self._kernels.best(part.segment, part.alive, (question.terms, question.weights), k)
        scores = (sums * question.scale).tolist()
        return list(zip(map(part.ids.__getitem__, numbers.tolist()), scores, strict=True))

    def _of_all(self, state: State, question: Asked, k: int) -> list[tuple[Hashable, float]]:
        """The best of every part and of what is fresh: first the highest sums, of equal ones the oldest."""
        hits: list[tuple[int, int, Hashable]] = []
        for part in state.parts:
            numbers, sums = self._kernels.best(
                part.segment, part.alive, (question.terms, question.weights), k
            )
            ids = map(part.ids.__getitem__, numbers.tolist())
            hits += zip((-sums).tolist(), part.order[numbers].tolist(), ids, strict=True)
        asked = (question.terms.tolist(), question.weights.tolist())
        for few in state.fresh:
            hits += ((-value, few.order[n], few.ids[n]) for value, n in few.best(*asked, k))
        hits.sort(key=itemgetter(0, 1))
        return [(id, -value * question.scale) for value, _, id in hits[:k]]

    def merge(self) -> None:
        """Merge what is fresh and join small parts, now; questions and changes go on meanwhile."""
        with self._merging:
            with self._lock:
                self._merge = merge = _Merge()
                state = self._state
                fresh = [(few, np.frombuffer(bytes(few.alive), dtype=np.uint8)) for few in state.fresh]
                self._state = replace(state, fresh=(*state.fresh, Fresh(self.mean_length)))
            laid = [self._laid(few, alive) for few, alive in fresh if len(few)]
            parts = self._joined((*state.parts, *laid))
            with self._lock:
                for order in merge.deleted:
                    self._mark_dead(order, parts)
                self._state = State.of(parts, self._state.fresh[len(state.fresh) :])
                self._recount(parts, self._state.fresh)
                self._merge = None

    def _laid(self, few: Fresh, alive: Bytes) -> Part:
        part = Part.of(few.rows(), self._words.terms, few.ids, order=few.orders(), kernels=self._kernels)
        part.alive[:] = alive
        return part

    def _joined(self, parts: Sequence[Part]) -> tuple[Part, ...]:
        """Parts that at least halve from one to the next, the dead left out of what is joined."""
        kept: list[Part] = []
        for part in parts:
            run = [part]
            while kept and kept[-1].size < 2 * sum(each.size for each in run):
                run.insert(0, kept.pop())
            if len(run) > 1 or 2 * int(part.alive.sum()) < part.size:
                part = merged(run, [each.alive.copy() for each in run], kernels=self._kernels)
            kept.append(part)
        return tuple(part for part in kept if part.size)

    def _merge_later(self) -> None:
        """Merge in a thread of its own, unless one is at it."""
        if not self._merging.locked():
            threading.Thread(target=self.merge, name="baylore-merge", daemon=True).start()


def _roomy(terms: int) -> int:
    return terms + terms // 4 + 1024


def _lengths(counts: Bytes, ends: Longs) -> Ints:
    sums = np.concatenate(([0], np.cumsum(counts, dtype=np.int64)))
    return np.diff(sums[np.concatenate(([0], ends))]).astype(np.int32)


def _weighed(terms: list[Ints], counts: list[Bytes], ends: list[Longs], lengths: Ints) -> Rows:
    places = np.concatenate(ends) if ends else np.zeros(0, dtype=np.int64)
    pivot = float(lengths.mean()) if len(lengths) and lengths.any() else 1.0
    held = np.concatenate(counts)
    owners = np.repeat(lengths, np.diff(places, prepend=0))
    return Rows(np.concatenate(terms), impacts(held, owners, pivot), places, lengths)
