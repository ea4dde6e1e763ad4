"""Numbers for terms, and the words that look alike: append-only, so that older snapshots stay right."""

from __future__ import annotations

from array import array
from collections import defaultdict
from collections.abc import Callable, Collection, Iterable
from itertools import repeat
from typing import Self

import numpy as np
import numpy.typing as npt
from rapidfuzz import process
from rapidfuzz.distance import OSA

from baylore_kb.text import word_grams

Numbers = npt.NDArray[np.int32]
Held = Callable[[int], bool]
_Near = tuple[Numbers, npt.NDArray[np.float64]]
_NOBODY: _Near = (np.zeros(0, dtype=np.int32), np.zeros(0))
LEAST_LIKENESS = 0.3
MOST_ALIKE = 12
# Bits that two slips may change.
_MOST_APART = 4
# The lowest likeness anybody asks for, and how many words keep their answer.
_LEAST_KEPT, _MOST_KEPT = 0.15, 20_000


class Lexicon:
    """A number for each term, given in the order of first sight and never taken back."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}
        self.terms: list[str] = []

    @classmethod
    def of(cls, terms: Iterable[str]) -> Self:
        """One that gives these terms the numbers 0, 1, ... in their order."""
        lexicon = cls()
        for term in terms:
            lexicon.add(term)
        return lexicon

    def __len__(self) -> int:
        return len(self.terms)

    def number(self, term: str) -> int | None:
        """The number of a term, None for one never added."""
        return self._numbers.get(term)

    def found(self, terms: Collection[str]) -> Numbers:
        """The numbers of terms, -1 for those never added."""
        return np.fromiter(map(self._numbers.get, terms, repeat(-1)), dtype=np.int32, count=len(terms))

    def add(self, term: str) -> int:
        """The number of a term, a new one where it is new."""
        number = self._numbers.get(term)
        if number is None:
            number = len(self.terms)
            self.terms.append(term)
            self._numbers[term] = number
        return number

    def numbers(self, terms: Iterable[str]) -> Numbers:
        """The numbers of terms, new ones added; no terms gives an empty array."""
        return np.asarray([self.add(term) for term in terms], dtype=np.int32)


class WordBook(Lexicon):
    """A lexicon of written words that also finds the words spelt like a given one."""

    def __init__(self) -> None:
        super().__init__()
        self._by_deletion: dict[str, list[int]] = defaultdict(list)
        self._by_gram: dict[str, array[int]] = defaultdict(lambda: array("I"))
        self._grams: array[int] = array("I")
        self._letters: array[int] = array("Q")
        self._lengths: array[int] = array("i")
        self._near_kept: dict[str, tuple[int, _Near]] = {}

    def add(self, term: str) -> int:
        """The number of a word, a new one where it is new."""
        number = super().add(term)
        if number == len(self._grams):
            grams = set(word_grams(term))
            self._grams.append(len(grams))
            self._letters.append(letters_of(term))
            self._lengths.append(len(term))
            for gram in grams:
                self._by_gram[gram].append(number)
            for shorter in deletions(term):
                self._by_deletion[shorter].append(number)
        return number

    def within_one(self, word: str) -> list[str]:
        """Other words one slip away: a letter missing, added, changed, or two neighbours swapped."""
        found = {n for shorter in deletions(word) for n in self._by_deletion.get(shorter, ())}
        return [
            self.terms[n] for n in sorted(found) if OSA.distance(self.terms[n], word, score_cutoff=1) == 1
        ]

    def within_two(self, word: str, held: Held) -> list[str]:
        """Other words two slips away among those held, in the order of first sight.

        Words whose letters or length two slips could not make alike are passed over at once.
        """
        apart = np.bitwise_count(np.array(self._letters, dtype=np.uint64) ^ np.uint64(letters_of(word)))
        longer = np.array(self._lengths)[: len(apart)] - len(word)
        near = np.flatnonzero((apart[: len(longer)] <= _MOST_APART) & (np.abs(longer) <= 2)).tolist()
        terms = [self.terms[n] for n in near]
        slips = process.extract(word, terms, scorer=OSA.distance, score_cutoff=2, limit=None)
        return [self.terms[n] for n in sorted(near[at] for _, far, at in slips if far == 2) if held(n)]

    def alike(
        self, word: str, held: Held, *, least: float = LEAST_LIKENESS, most: int = MOST_ALIKE
    ) -> list[tuple[int, float]]:
        """Numbers of words that share character n-grams with `word`, most alike first.

        Only words for which `held` is true count: the book also has those of later and of deleted cases.
        Likeness is the Dice share of distinct n-grams, in [`least`, 1]; the word itself has 1.
        """
        numbers, likeness = self._near(word, len(self._grams))
        enough = likeness >= least
        scored = zip(numbers[enough].tolist(), likeness[enough].tolist(), strict=True)
        kept = [(n, share) for n, share in scored if held(n)]
        return sorted(kept, key=lambda pair: (-pair[1], self.terms[pair[0]]))[:most]

    def _near(self, word: str, size: int) -> _Near:
        """Words of the first `size` that share enough n-grams, with their likeness; kept for next time."""
        kept = self._near_kept.get(word)
        if kept is None or kept[0] < size:
            if len(self._near_kept) >= _MOST_KEPT:
                self._near_kept.clear()
            kept = self._near_kept[word] = (size, self._counted(word, size))
        return kept[1]

    def _counted(self, word: str, size: int) -> _Near:
        grams = set(word_grams(word))
        lists = [np.array(self._by_gram[gram], dtype=np.int64) for gram in grams if gram in self._by_gram]
        if not lists:
            return _NOBODY
        shared = np.bincount(np.concatenate(lists), minlength=size)[:size]
        found = np.flatnonzero(shared)
        lengths = np.array(self._grams, dtype=np.int64)[found]
        likeness = 2.0 * shared[found] / (len(grams) + lengths)
        near = likeness >= _LEAST_KEPT
        return found[near].astype(np.int32), likeness[near]


def deletions(word: str) -> set[str]:
    """The word and every form of it with one letter left out."""
    return {word} | {word[:at] + word[at + 1 :] for at in range(len(word))}


def letters_of(word: str) -> int:
    """Which signs a word holds an odd number of times, as bits: a slip changes at most two of them."""
    bits = 0
    for sign in word:
        bits ^= 1 << (ord(sign) & 63)
    return bits
