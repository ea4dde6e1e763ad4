"""The text index: from words to the ids of the texts that say most of them."""

from __future__ import annotations

import threading
from collections.abc import Hashable, Iterable
from itertools import islice

import numpy as np

from baylore_kb.recall.filing import pack, unpack
from baylore_kb.recall.fresh import Row
from baylore_kb.recall.layout import Bytes, Lengths, Longs
from baylore_kb.recall.postings import Documents, Postings
from baylore_kb.recall.question import Asked, Known, asked
from baylore_kb.recall.words import Also, Spellings, Words

_READ_AT_ONCE = 8192


class TextIndex:
    """Finds texts by words: BM25 with weights shared among words that keep coming together, and with
    misspelt words of the question mended to known ones.

    Ids are any hashable values; a later text of the same id takes the place of the earlier. One thread
    writes at a time, any number ask meanwhile; a question never waits for a merge. Document counts still
    count deleted texts until the next merge. `compile` False works without numba (see `kernels`);
    `background` False merges only when `merge` is called; `also` names further words that a written
    one stands for, in texts and questions alike.
    """

    def __init__(
        self, *, compile: bool | None = None, background: bool = True, also: Also | None = None
    ) -> None:
        self._background = background
        self._words = Words(also=also)
        self._spellings = Spellings()
        self._ids: list[Hashable] = []
        self._numbers: dict[Hashable, int] = {}
        self._postings = Postings.none(compile=compile)
        self._lock = threading.RLock()
        self._merging = threading.Lock()

    @classmethod
    def build(
        cls,
        texts: Iterable[tuple[Hashable, str]],
        *,
        compile: bool | None = None,
        background: bool = True,
        also: Also | None = None,
    ) -> TextIndex:
        """The index of these (id, text) pairs; of two with one id the later counts. No pairs are fine."""
        index = cls(compile=compile, background=background, also=also)
        ids, documents = index._read(texts)
        index._take(ids, Postings.of(documents, compile=compile))
        return index

    @classmethod
    def from_bytes(
        cls,
        data: bytes | memoryview,
        *,
        compile: bool | None = None,
        background: bool = True,
        also: Also | None = None,
    ) -> TextIndex:
        """The index that `to_bytes` saved, with the same `also` as then; the arrays stay in `data`.

        A mapped file will do, as long as nobody writes to it. Raises SavedIndexUnusable for anything else,
        for damaged or shortened bytes and for what another version wrote: build it anew then.
        """
        words, ids, parts = unpack(data)
        index = cls(compile=compile, background=background, also=also)
        index._words = Words(words, also)
        index._take(ids, Postings.of_parts(parts, compile=compile))
        return index

    def to_bytes(self) -> bytes:
        """The index as bytes, fresh texts merged first. Ids must be whole numbers or strings."""
        with self._merging, self._lock:
            self._postings = self._postings.merged()
            return pack(self._words, self._ids, self._postings.parts)

    def _read(self, texts: Iterable[tuple[Hashable, str]]) -> tuple[list[Hashable], Documents]:
        """Read in runs, so that the words of few texts are in memory at once."""
        ids: list[Hashable] = []
        runs, at, rest = [_NO_DOCUMENTS], 0, iter(texts)
        distinct = self._postings.kernels.distinct
        while run := list(islice(rest, _READ_AT_ONCE)):
            ids += [id for id, _ in run]
            flat, ends = self._words.read(text for _, text in run)
            terms, counts, places = distinct(flat, ends, self._words.terms)
            runs.append(Documents(terms, counts, places + at, _lengths(counts, places)))
            at += len(terms)
        return ids, Documents(*map(np.concatenate, zip(*runs, strict=True)))

    def _take(self, ids: list[Hashable], postings: Postings) -> None:
        """Take these texts for all there is; the later of two living ones with one id counts."""
        self._ids = ids
        living = [n for part in postings.parts for n in part.order[part.alive > 0].tolist()]
        self._numbers = dict(zip(map(ids.__getitem__, living), living, strict=True))
        last = self._numbers
        twice = [n for n in living if last[ids[n]] != n] if len(last) < len(living) else []
        self._postings = postings.with_changes(deleted=twice)
        self._spellings = Spellings(tuple(self._words))

    def __len__(self) -> int:
        return len(self._numbers)

    def __contains__(self, id: Hashable) -> bool:
        return id in self._numbers

    @property
    def nbytes(self) -> int:
        """Bytes of the postings, as the index itself counts them."""
        return self._postings.nbytes

    @property
    def mean_length(self) -> float:
        """Mean length of the texts in terms, 1 for none."""
        return self._postings.mean_length

    def put(self, id: Hashable, text: str) -> None:
        """Add a text, or write it anew; the next question finds it."""
        with self._lock:
            earlier = self._numbers.get(id)
            gone = () if earlier is None else (earlier,)
            row = self._row(text)
            self._ids.append(id)
            self._numbers[id] = self._postings.next
            self._postings = self._postings.with_changes(put=(row,), deleted=gone)
        self._merge_if_due()

    def _row(self, text: str) -> Row:
        known = len(self._words)
        flat, _ = self._words.read((text,))
        for word in list(islice(reversed(self._words), len(self._words) - known)):
            self._spellings.add(word)
        terms, counts = np.unique(flat[flat >= 0], return_counts=True)
        return Row(terms.astype(np.int32), counts, float(counts.sum()))

    def delete(self, id: Hashable) -> bool:
        """Take a text out; whether there was one."""
        with self._lock:
            number = self._numbers.pop(id, None)
            if number is None:
                return False
            self._postings = self._postings.with_changes(deleted=(number,))
        self._merge_if_due()
        return True

    def search(self, text: str, k: int = 10) -> list[tuple[Hashable, float]]:
        """The `k` best texts as (id, score), best first, ties by age; none where no word is known."""
        return self.find(self.ask(text), k)

    def ask(self, text: str) -> Asked:
        """The question as it is understood: its terms with weights, and which words were mended to which."""
        return asked(text, Known(self._words, self._spellings, self._postings))

    def find(self, question: Asked, k: int = 10) -> list[tuple[Hashable, float]]:
        """The `k` best texts for a question, as `search` has it."""
        numbers, scores = self._postings.best(question.weighed, k)
        return list(zip(map(self._ids.__getitem__, numbers.tolist()), scores.tolist(), strict=True))

    def merge(self) -> None:
        """Merge what is fresh and join small parts, now; questions and changes go on meanwhile."""
        with self._merging:
            before = self._postings
            merged = before.merged()
            with self._lock:
                self._postings = merged.caught_up(before, self._postings)

    def _merge_if_due(self) -> None:
        """Merge in a thread of its own, unless one is at it."""
        if self._background and self._postings.due and not self._merging.locked():
            threading.Thread(target=self.merge, name="baylore-merge", daemon=True).start()


_NO_DOCUMENTS = Documents(
    np.zeros(0, dtype=np.int32),
    np.zeros(0, dtype=np.uint8),
    np.zeros(0, dtype=np.int64),
    np.zeros(0, dtype=np.float32),
)


def _lengths(counts: Bytes, ends: Longs) -> Lengths:
    sums = np.concatenate(([0], np.cumsum(counts, dtype=np.int64)))
    return np.diff(sums[np.concatenate(([0], ends))]).astype(np.float32)
