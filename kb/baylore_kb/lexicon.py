"""Numbers for terms, and the words that look alike: append-only, so that older snapshots stay right."""

from __future__ import annotations

from array import array
from collections import Counter, defaultdict
from collections.abc import Callable, Iterable

import numpy as np
import numpy.typing as npt
from rapidfuzz.distance import OSA

from baylore_kb.text import word_grams

Numbers = npt.NDArray[np.int32]
Held = Callable[[int], bool]
LEAST_LIKENESS = 0.3
MOST_ALIKE = 12


class Lexicon:
    """A number for each term, given in the order of first sight and never taken back."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}
        self.terms: list[str] = []

    def __len__(self) -> int:
        return len(self.terms)

    def number(self, term: str) -> int | None:
        """The number of a term, None for one never added."""
        return self._numbers.get(term)

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
        self._grams: list[int] = []

    def add(self, term: str) -> int:
        """The number of a word, a new one where it is new."""
        number = super().add(term)
        if number == len(self._grams):
            grams = set(word_grams(term))
            self._grams.append(len(grams))
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
        """Words two slips away among those held that share letter groups with `word`."""
        near = (self.terms[n] for n, _ in self.alike(word, held, least=0.15, most=40))
        return [other for other in near if OSA.distance(other, word, score_cutoff=2) == 2]

    def alike(
        self, word: str, held: Held, *, least: float = LEAST_LIKENESS, most: int = MOST_ALIKE
    ) -> list[tuple[int, float]]:
        """Numbers of words that share character n-grams with `word`, most alike first.

        Only words for which `held` is true count: the book also has those of later and of deleted cases.
        Likeness is the Dice share of distinct n-grams, in [`least`, 1]; the word itself has 1.
        """
        grams = set(word_grams(word))
        shared: Counter[int] = Counter()
        for gram in grams:
            shared.update(self._by_gram.get(gram, ()))
        scored = ((n, 2.0 * k / (len(grams) + self._grams[n])) for n, k in shared.items())
        kept = [(n, likeness) for n, likeness in scored if likeness >= least and held(n)]
        return sorted(kept, key=lambda pair: (-pair[1], self.terms[pair[0]]))[:most]


def deletions(word: str) -> set[str]:
    """The word and every form of it with one letter left out."""
    return {word} | {word[:at] + word[at + 1 :] for at in range(len(word))}
