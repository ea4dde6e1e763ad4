"""TF-IDF with smoothed idf and unit length, as scikit-learn's TfidfVectorizer computes it."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Sequence
from operator import mul

import numpy as np
import numpy.typing as npt

from baylore_kb.sparse import Asked, Floats, Sparse


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
        # the last one, found at -1, is that of a term no document holds
        self._idf = smooth_idf(self.size, [*frequency.values(), 0]).tolist()
        self.sparse = self._laid(counts)

    def _laid(self, counts: Sequence[Counter[str]]) -> Sparse:
        asked = [self.asked(count) for count in counts]
        return Sparse.of(
            [row for row, (numbers, _) in enumerate(asked) for _ in numbers],
            [number for numbers, _ in asked for number in numbers],
            [weight for _, weights in asked for weight in weights],
            terms=len(self._number),
            size=self.size,
        )

    def asked(self, terms: Iterable[str] | Counter[str], *, heed_unknown: bool = False) -> Asked:
        """Numbers and weights of the known terms, the weights of unit length; no terms give none.

        A term of no document is left out, or, with `heed_unknown`, takes its part of the length.
        """
        count = terms if isinstance(terms, Counter) else Counter(terms)
        if not heed_unknown:
            count = Counter({term: n for term, n in count.items() if term in self._number})
        numbers = [self._number.get(term, -1) for term in count]
        raw = [tf * self._idf[number] for tf, number in zip(self._tf(count), numbers, strict=True)]
        length = math.sqrt(sum(map(mul, raw, raw)))
        known = [weight / length for weight, number in zip(raw, numbers, strict=True) if number >= 0]
        return [number for number in numbers if number >= 0], known

    def _tf(self, count: Counter[str]) -> list[float]:
        if self._sublinear:
            return [1.0 + math.log(n) if n > 1 else 1.0 for n in count.values()]
        return [float(n) for n in count.values()]

    def among(self, terms: Iterable[str]) -> Asked:
        """The numbers of the known terms, each once and with weight 1."""
        numbers = [self._number[term] for term in dict.fromkeys(terms) if term in self._number]
        return numbers, [1.0] * len(numbers)

    def cosines(self, terms: Iterable[str], *, heed_unknown: bool = False) -> Floats:
        """Cosine in [0, 1] with every document, in order; `heed_unknown` as in `asked`."""
        return self.sparse.dots(self.asked(terms, heed_unknown=heed_unknown))
