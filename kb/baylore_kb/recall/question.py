"""A question to the text index: known words with weights, and what unknown ones were read as."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

import numpy as np

from baylore_kb.recall.postings import Postings, Weighed
from baylore_kb.recall.words import Spellings, Words, words_of

# What a mended word counts for: the likeliest reading, and each further one.
_READ, _ELSE = 0.8, 0.3
_MOST_READINGS = 3


class Asked(NamedTuple):
    """A question's terms with weights, and for each mended word what it was read as, likeliest first."""

    weighed: Weighed
    read_as: Mapping[str, tuple[str, ...]]


class Known(NamedTuple):
    """What a question is read by."""

    words: Words
    spellings: Spellings
    postings: Postings


def asked(text: str, known: Known) -> Asked:
    """The question of a text; words that mean nothing are left out, unknown ones mended where they can be."""
    uses: dict[int, float] = {}
    unknown: dict[str, float] = {}
    number = known.words.get
    for word in words_of(text):
        term = number(word)
        if term is not None and term >= -1:
            if term >= 0:
                uses[term] = uses.get(term, 0.0) + 1.0
        elif (terms := known.words.known(word)) is None:
            unknown[word] = unknown.get(word, 0.0) + 1.0
        else:
            _use(uses, terms, 1.0)
    read_as = _mended(unknown, uses, known) if unknown else {}
    terms_asked = np.array(list(uses), dtype=np.int32)
    times = np.array(list(uses.values()), dtype=np.float64)
    return Asked(known.postings.weighed(terms_asked, times), read_as)


def _use(uses: dict[int, float], terms: tuple[int, ...], times: float) -> None:
    for term in terms:
        uses[term] = uses.get(term, 0.0) + times


def _mended(unknown: Mapping[str, float], uses: dict[int, float], known: Known) -> dict[str, tuple[str, ...]]:
    """Add what unknown words may mean to `uses`; gives what each was read as."""
    read_as: dict[str, tuple[str, ...]] = {}
    for word, times in unknown.items():
        readings = _readings(word, known)
        if readings:
            read_as[word] = readings
        for place, read in enumerate(readings):
            _use(uses, known.words.known(read) or (), times * (_ELSE if place else _READ))
    return read_as


def _readings(word: str, known: Known) -> tuple[str, ...]:
    """The known words an unknown one may be, the nearest first and of these the most usual."""
    near = known.spellings.near(word)
    first = [(known.words.known(other) or (-1,))[0] for _, other in near]
    usual = known.postings.counts(np.maximum(np.array(first, dtype=np.int32), 0)).tolist()
    found = zip(near, first, usual, strict=True)
    counted = [(slips, -count, other) for (slips, other), term, count in found if term >= 0 and count]
    return tuple(other for _, _, other in sorted(counted)[:_MOST_READINGS])
