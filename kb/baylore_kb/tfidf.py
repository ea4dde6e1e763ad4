"""TF-IDF with smoothed idf and unit length, as scikit-learn's TfidfVectorizer computes it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Ints = npt.NDArray[np.int64]


def smooth_idf(documents: int, frequency: npt.ArrayLike) -> Floats:
    """ln((1 + N) / (1 + df)) + 1 for each document frequency; at least 1 while df <= N."""
    return np.log((1.0 + documents) / (1.0 + np.asarray(frequency, dtype=np.float64))) + 1.0


class Tfidf:
    """A fixed collection of documents, each a sequence of terms, ready to be compared with others.

    `sublinear` takes 1 + ln(tf) for tf. A document without terms has cosine 0 with everything.
    """

    def __init__(self, documents: Sequence[Iterable[str]], *, sublinear: bool = False) -> None:
        counts = [Counter(terms) for terms in documents]
        frequency = Counter(term for count in counts for term in count)
        self._number = {term: n for n, term in enumerate(frequency)}
        self._sublinear = sublinear
        self.size = len(counts)
        self.idf = smooth_idf(self.size, list(frequency.values()))
        self._unknown_idf = math.log(1.0 + self.size) + 1.0
        self._fill(counts)

    def _fill(self, counts: Sequence[Counter[str]]) -> None:
        rows: list[int] = []
        columns: list[int] = []
        values: list[float] = []
        for row, count in enumerate(counts):
            for term, weight in self.weights(count).items():
                rows.append(row)
                columns.append(self._number[term])
                values.append(weight)
        order = np.argsort(np.asarray(columns, dtype=np.int64), kind="stable")
        self._rows = np.asarray(rows, dtype=np.int64)[order]
        self._values = np.asarray(values, dtype=np.float64)[order]
        ends = (
            np.cumsum(np.bincount(columns, minlength=len(self._number))) if columns else np.zeros(0, np.int64)
        )
        self._starts = np.concatenate(([0], ends)).astype(np.int64)

    def weights(self, terms: Iterable[str] | Counter[str], *, heed_unknown: bool = False) -> dict[str, float]:
        """Weight by term, of unit length; no terms gives {}.

        A term of no document is left out, or, with `heed_unknown`, takes its part of the length.
        """
        count = terms if isinstance(terms, Counter) else Counter(terms)
        kept = {term: n for term, n in count.items() if heed_unknown or term in self._number}
        raw = {term: self._tf(n) * self.idf_of(term) for term, n in kept.items()}
        length = math.sqrt(sum(weight * weight for weight in raw.values()))
        return {term: weight / length for term, weight in raw.items()} if length else {}

    def _tf(self, count: int) -> float:
        return 1.0 + math.log(count) if self._sublinear else float(count)

    def idf_of(self, term: str) -> float:
        """The idf of a term; one never seen gets that of df = 0."""
        number = self._number.get(term)
        return self._unknown_idf if number is None else float(self.idf[number])

    def knows(self, term: str) -> bool:
        """Whether any document holds the term."""
        return term in self._number

    def cosines(self, terms: Iterable[str], *, heed_unknown: bool = False) -> Floats:
        """Cosine in [0, 1] with every document, in order; `heed_unknown` as in `weights`."""
        return self._dots(self.weights(terms, heed_unknown=heed_unknown))

    def _dots(self, weights: dict[str, float]) -> Floats:
        scores = np.zeros(self.size)
        for term, weight in weights.items():
            number = self._number.get(term)
            if number is not None:
                part = slice(self._starts[number], self._starts[number + 1])
                scores[self._rows[part]] += weight * self._values[part]
        return scores

    def containments(self, terms: Iterable[str]) -> Floats:
        """Share in [0, 1] of each document's squared weight that lies in the given terms."""
        shares = np.zeros(self.size)
        for term in set(terms):
            number = self._number.get(term)
            if number is not None:
                part = slice(self._starts[number], self._starts[number + 1])
                shares[self._rows[part]] += self._values[part] ** 2
        return shares
