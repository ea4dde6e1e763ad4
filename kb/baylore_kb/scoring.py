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


def of_uses(weights: Floats, tf: Floats, lengths: Floats, *, mean_length: float) -> Floats:
    """(N) what each of N uses adds to its document: the term's weight, how much it is used there, and the
    document's length, against the mean one > 0.
    """
    slack = K1 * (1.0 - B + B * lengths / mean_length)
    return np.asarray(weights * tf * (K1 + 1.0) / (tf + slack))


def _scores(segment: Segment, terms: Mapping[int, float], mean_length: float) -> Floats:
    """Of a segment's documents; each document's terms are added up in the order of `terms`."""
    if not terms:
        return np.zeros(len(segment.docs))
    held = segment.terms.at(list(terms))
    documents = np.concatenate([segment.terms.documents[each] for each in held]) - segment.first
    tf = np.concatenate([segment.terms.weights[each] for each in held]).astype(np.float64)
    weights = np.repeat(list(terms.values()), [each.stop - each.start for each in held])
    lengths = segment.lengths[documents].astype(np.float64)
    found = of_uses(weights, tf, lengths, mean_length=mean_length)
    return np.asarray(np.bincount(documents, found, minlength=len(segment.docs)), dtype=np.float64)


def scaled(scores: Floats) -> Floats:
    """Scores (N) of 0 or more by the highest of them; as they are where none is above 0."""
    most = float(scores.max(initial=0.0))
    return scores / most if most > 0 else scores
