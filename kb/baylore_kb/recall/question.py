"""A question to the text index: known words with weights, and what unknown ones were read as."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from baylore_kb.recall.kernels import Kernels
from baylore_kb.recall.layout import Ints, Sample
from baylore_kb.recall.words import Spellings, Words, words_of

# What a mended word counts for: the likeliest reading, and each further one.
_READ, _ELSE = 0.8, 0.3
_MOST_READINGS = 3


class Asked(NamedTuple):
    """Term numbers with whole weights, each term once, and for each mended word what it was read as.

    A score is `scale` times the sum of weight times impact.
    """

    terms: Ints
    weights: Ints
    scale: float
    read_as: Mapping[str, tuple[str, ...]]


class Known(NamedTuple):
    """What a question is read by: the words, how many of `living` documents hold each term, a sample."""

    words: Words
    spellings: Spellings
    counts: Ints
    living: int
    sample: Sample


def asked(text: str, known: Known, kernels: Kernels) -> Asked:
    """The question of a text; words that mean nothing are left out, unknown ones mended where they can be."""
    uses: dict[int, float] = {}
    unknown: dict[str, float] = {}
    for word, term in zip(words := words_of(text), map(known.words.get, words), strict=True):
        if term is None:
            unknown[word] = unknown.get(word, 0.0) + 1.0
        elif term >= 0:
            uses[term] = uses.get(term, 0.0) + 1.0
    read_as = _mended(unknown, uses, known) if unknown else {}
    terms = np.array(list(uses), dtype=np.int32)
    times = np.array(list(uses.values()), dtype=np.float64)
    weights, scale = kernels.weigh(terms, times, known.counts, living=known.living, sample=known.sample)
    return Asked(terms, weights, scale, read_as)


def _mended(unknown: Mapping[str, float], uses: dict[int, float], known: Known) -> dict[str, tuple[str, ...]]:
    """Add what unknown words may mean to `uses`; gives what each was read as."""
    read_as: dict[str, tuple[str, ...]] = {}
    for word, times in unknown.items():
        readings = _readings(word, known)
        if readings:
            read_as[word] = readings
        for place, read in enumerate(readings):
            term = known.words[read]
            uses[term] = uses.get(term, 0.0) + times * (_ELSE if place else _READ)
    return read_as


def _readings(word: str, known: Known) -> tuple[str, ...]:
    """The known words an unknown one may be, the nearest first and of these the most usual."""
    near = ((slips, known.words[other], other) for slips, other in known.spellings.near(word))
    counted = [(slips, -int(known.counts[term]), other) for slips, term, other in near if term >= 0]
    return tuple(other for _, count, other in sorted(counted)[:_MOST_READINGS] if count)
