"""Scores of all documents of a snapshot for a question: BM25 on terms and likeness of spelling."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
import numpy.typing as npt

from baylore_kb.segment import Segment

Floats = npt.NDArray[np.float64]

K1, B = 1.2, 0.75


def bm25_idf(documents: int, frequency: npt.ArrayLike) -> Floats:
    """ln(1 + (N - df + 0.5) / (df + 0.5)): never negative, also for a word of every case.

    Source: Robertson & Zaragoza 2009, with the always-positive form.
    """
    df = np.asarray(frequency, dtype=np.float64)
    return np.log1p((documents - df + 0.5) / (df + 0.5))


def bm25(segments: Sequence[Segment], terms: Mapping[int, float], *, size: int, mean_length: float) -> Floats:
    """BM25 (k1 1.2, b 0.75) of every document; `terms` gives each term number its idf times weight.

    `size` is the count of documents ever numbered, `mean_length` > 0 the mean over living ones.
    """
    scores = np.zeros(size)
    for segment in segments:
        slack = K1 * (1.0 - B + B * segment.lengths / mean_length)
        for number, weight in terms.items():
            held = segment.terms.at(number)
            documents = segment.terms.documents[held]
            tf = segment.terms.weights[held].astype(np.float64)
            scores[documents] += weight * tf * (K1 + 1.0) / (tf + slack[documents - segment.first])
    return scores


def likeness(
    segments: Sequence[Segment], words: Iterable[tuple[float, Sequence[tuple[int, float]]]], *, size: int
) -> Floats:
    """Weighted share in [0, 1] of the asked words that each document holds, in this or a like spelling.

    Each word comes as (weight, [(word number, likeness in (0, 1])]); a document counts its best.
    No words gives zeros.
    """
    total = 0.0
    scores = np.zeros(size)
    best = np.zeros(size)
    for weight, alike in words:
        total += weight
        touched = _best_likeness(segments, alike, best)
        for documents in touched:
            scores[documents] += weight * best[documents]
            best[documents] = 0.0
    return scores / total if total else scores


def _best_likeness(
    segments: Sequence[Segment], alike: Sequence[tuple[int, float]], best: Floats
) -> list[npt.NDArray[np.int32]]:
    """Write each document's best likeness into `best`; gives the documents touched, each once."""
    touched: list[npt.NDArray[np.int32]] = []
    for number, value in sorted(alike, key=lambda pair: -pair[1]):
        for segment in segments:
            documents = segment.words.documents[segment.words.at(number)]
            fresh = documents[best[documents] == 0.0]
            best[fresh] = value
            touched.append(fresh)
    return touched
