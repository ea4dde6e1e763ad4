"""TF-IDF with smoothed idf and unit length, as scikit-learn's TfidfVectorizer computes it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from baylore_kb.added_plain import Floats, Ints
from baylore_kb.sparse import Sparse


def smooth_idf(documents: int, frequency: npt.ArrayLike) -> Floats:
    """ln((1 + N) / (1 + df)) + 1 for each document frequency; at least 1 while df <= N."""
    return np.log((1.0 + documents) / (1.0 + np.asarray(frequency, dtype=np.float64))) + 1.0


class Counted(NamedTuple):
    """The distinct terms of a text: their numbers (n) and how often each comes (n)."""

    numbers: Ints
    counts: Floats


class Terms:
    """Terms by number; all that are not among them share the number after the last."""

    def __init__(self, documents: Iterable[Iterable[str]]) -> None:
        distinct = dict.fromkeys(term for terms in documents for term in terms)
        self._number = {term: n for n, term in enumerate(distinct)}

    def __len__(self) -> int:
        return len(self._number)

    def __contains__(self, term: object) -> bool:
        return term in self._number

    def number(self, term: str) -> int:
        """The number of a term, that of all unknown ones for one not known."""
        return self._number.get(term, len(self._number))

    def counted(self, terms: Iterable[str]) -> Counted:
        """The distinct terms of a text, each unknown one by itself."""
        count = terms if isinstance(terms, Counter) else Counter(terms)
        numbers = np.array([*map(self.number, count)], dtype=np.int64)
        return Counted(numbers, np.array([*count.values()], dtype=np.float64))


class Tfidf:
    """A fixed collection of documents, each a sequence of terms, ready to be compared with others.

    `terms` are those of a larger set it shares with others, None its own. `sublinear` takes 1 + ln(tf) for
    tf. A document without terms has cosine 0 with everything.
    """

    def __init__(
        self, documents: Sequence[Iterable[str]], *, terms: Terms | None = None, sublinear: bool = False
    ) -> None:
        counts = [document if isinstance(document, Counter) else Counter(document) for document in documents]
        self.terms = Terms(counts) if terms is None else terms
        self._sublinear = sublinear
        held = [self.terms.counted(count) for count in counts]
        numbers = np.concatenate([each.numbers for each in held]) if held else np.zeros(0, np.int64)
        # one more, that no document holds, for all unknown terms
        frequency = np.bincount(numbers, minlength=len(self.terms) + 1)
        self._idf = smooth_idf(len(counts), frequency)
        self.sparse = Sparse.of(
            [row for row, each in enumerate(held) for _ in each.numbers],
            numbers.tolist(),
            np.concatenate([self.weights(each) for each in held]) if held else np.zeros(0),
            terms=len(self.terms) + 1,
            size=len(counts),
        )

    def weights(self, counted: Counted) -> Floats:
        """(n) weights of a text's terms, of unit length with those of unknown ones; no terms give none."""
        tf = 1.0 + np.log(counted.counts) if self._sublinear else counted.counts
        raw = tf * self._idf[counted.numbers]
        return np.asarray(raw / np.sqrt(raw @ raw))

    def cosines(self, terms: Iterable[str], *, heed_unknown: bool = False) -> Floats:
        """Cosine in [0, 1] with every document, in order.

        A term of no document is left out, or, with `heed_unknown`, takes its part of the length.
        """
        counted = self.terms.counted(term for term in terms if heed_unknown or term in self.terms)
        return self.sparse.dots(counted.numbers, self.weights(counted))
