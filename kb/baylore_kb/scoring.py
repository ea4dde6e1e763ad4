"""Scores of the documents of a snapshot for a question: BM25 on weighted terms."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

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
        scores[segment.first : segment.first + len(segment.docs)] = _scores(segment, terms, mean_length)
    return scores


def _scores(segment: Segment, terms: Mapping[int, float], mean_length: float) -> Floats:
    """Of a segment's documents; each document's terms are added up in the order of `terms`."""
    if not terms:
        return np.zeros(len(segment.docs))
    held = segment.terms.at(list(terms))
    documents = np.concatenate([segment.terms.documents[each] for each in held]) - segment.first
    tf = np.concatenate([segment.terms.weights[each] for each in held]).astype(np.float64)
    weights = np.repeat(list(terms.values()), [each.stop - each.start for each in held])
    slack = K1 * (1.0 - B + B * segment.lengths[documents].astype(np.float64) / mean_length)
    found = weights * tf * (K1 + 1.0) / (tf + slack)
    return np.asarray(np.bincount(documents, found, minlength=len(segment.docs)), dtype=np.float64)
