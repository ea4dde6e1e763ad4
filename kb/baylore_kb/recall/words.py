"""From text to term numbers, as fast as a table can: each written word is read once."""

from __future__ import annotations

import re
from array import array
from collections.abc import Callable, Iterable, Sequence
from zlib import crc32

import numpy as np
import numpy.typing as npt
from rapidfuzz.distance import OSA

from baylore_kb.recall.layout import Ints, Longs
from baylore_kb.stems import STOP_WORDS, stem
from baylore_kb.tokens import MAX_CHARS, fold

# Stands with every saved index: what another version read must be read anew.
READING = "3"
# What is joined by a dash, dot or slash is one word where a digit is near: part numbers, codes, measures;
# and single letters are: "L/H" and "l.h." are "lh".
# The look ahead is bounded: a page of dashes must not cost the square of its length.
_JOINED = r"(?<=\d)[-./]|[-./](?=\S{0,24}\d)|(?<=\b[^\W\d_])[./](?=[^\W\d_]\b)"
_WORD = re.compile(rf"\w+(?:(?:{_JOINED})\w+)*")
_MEASURE = re.compile(r"\d+\.\d+[^\W\d_]*")
_PIECE = re.compile(r"\w+")
_LONGEST, _LEAST_PIECE = 40, 3
# Words shorter than this, or with a digit, are never mended; from eight letters two slips are.
_SHORTEST_MENDED, _TWO_SLIPS_FROM = 4, 8
_NONE = np.zeros(0, dtype=np.uint32)

# Further words that a written one stands for.
Also = Callable[[str], Iterable[str]]


def words_of(text: str) -> list[str]:
    """The words of a text in order, folded; an apostrophe is passed over: "won't" is "wont"."""
    plain = text.lower() if text.isascii() and len(text) <= MAX_CHARS else fold(text)
    # No word has a space in it, and most of what stands between spaces is one.
    between = (plain.replace("'", "") if "'" in plain else plain).split()
    if "".join(between).isalnum():
        return between
    found: list[str] = []
    for each in between:
        if each.isalnum():
            found.append(each)
        else:
            found += _WORD.findall(each)
    return found


def stems_of(word: str) -> tuple[str, ...]:
    """What a folded word is filed under: its stem; for a number with dashes also its longer pieces.

    Nothing for a word that carries no fault. "12-3456-a" is filed as "123456a" and "3456", "12.4v" as it is.
    """
    word = word[:_LONGEST]
    if word in STOP_WORDS:
        return ()
    if word.isalnum() or "_" in word or _MEASURE.fullmatch(word):
        return (stem(word),)
    pieces = [piece for piece in _PIECE.findall(word) if len(piece) >= _LEAST_PIECE]
    return ("".join(_PIECE.findall(word)), *(stem(piece) for piece in pieces if piece not in STOP_WORDS))


class Words(dict[str, int]):
    """Every written word with the number of its term; -1 for none, below that for several.

    `also` may name further words that a written one stands for; it must give the same for a saved index.
    """

    def __init__(self, written: Iterable[str] = (), also: Also | None = None) -> None:
        super().__init__()
        self._numbers: dict[str, int] = {}
        self._several: list[tuple[int, ...]] = []
        self._also = also
        for word in written:
            self[word]

    def __missing__(self, word: str) -> int:
        terms = tuple(self._numbers.setdefault(form, len(self._numbers)) for form in self._forms(word))
        if len(terms) > 1:
            self._several.append(terms)
            number = -1 - len(self._several)
        else:
            number = terms[0] if terms else -1
        self[word] = number
        return number

    def _forms(self, word: str) -> Iterable[str]:
        further = self._also(word) if self._also else ()
        return dict.fromkeys(form for each in (word, *further) for form in stems_of(each))

    @property
    def terms(self) -> int:
        """How many numbers were given."""
        return len(self._numbers)

    def known(self, word: str) -> tuple[int, ...] | None:
        """The terms of a word, also of one never written whose stem was; None where nothing is known."""
        number = self.get(word)
        if number is not None:
            return self._terms(number)
        forms = tuple(self._forms(word))
        found = tuple(self._numbers[form] for form in forms if form in self._numbers)
        return found if found or not forms else None

    def _terms(self, number: int) -> tuple[int, ...]:
        if number >= 0:
            return (number,)
        return self._several[-2 - number] if number < -1 else ()

    def read(self, texts: Iterable[str]) -> tuple[Ints, Longs]:
        """The numbers of all words of the texts, one text after the other, and where each ends."""
        flat, ends = array("i"), array("q")
        number = self.__getitem__
        for text in texts:
            flat.fromlist(list(map(number, words_of(text))))
            ends.append(len(flat))
        return self._each_by_itself(np.frombuffer(flat, dtype=np.int32), np.frombuffer(ends, dtype=np.int64))

    def _each_by_itself(self, flat: Ints, ends: Longs) -> tuple[Ints, Longs]:
        """The same with the terms of a word that has several in its place."""
        several = np.flatnonzero(flat < -1)
        if not len(several):
            return flat, ends
        terms = [self._terms(number) for number in flat[several].tolist()]
        lengths = np.ones(len(flat), dtype=np.int64)
        lengths[several] = [len(each) for each in terms]
        spread = np.repeat(flat, lengths)
        spread[spread < -1] = [term for each in terms for term in each]
        return spread, np.concatenate([[0], np.cumsum(lengths)])[ends]


class Spellings:
    """Finds known words one slip away by what both become when a letter is left out."""

    def __init__(self, words: Sequence[str] = ()) -> None:
        self._words = [word for word in words if _mendable(word)]
        self._keys, self._owners = _table(self._words)
        self._later: dict[int, list[str]] = {}

    def add(self, word: str) -> None:
        """A word that came since."""
        if _mendable(word):
            for key in _keys(word):
                self._later.setdefault(key, []).append(word)

    def near(self, word: str) -> list[tuple[int, str]]:
        """Known words one slip away (two from eight letters) with their slips, in no order."""
        if not _mendable(word):
            return []
        most = 2 if len(word) >= _TWO_SLIPS_FROM else 1
        slips = ((OSA.distance(word, other, score_cutoff=most), other) for other in self._alike(word))
        return [(slip, other) for slip, other in slips if slip <= most]

    def _alike(self, word: str) -> set[str]:
        keys = _keys(word)
        asked = np.asarray(keys, dtype=np.uint32)
        starts, ends = np.searchsorted(self._keys, asked), np.searchsorted(self._keys, asked, side="right")
        found = {self._words[n] for a, b in zip(starts, ends, strict=True) for n in self._owners[a:b]}
        for key in keys if self._later else ():
            found.update(self._later.get(key, ()))
        return found


def _mendable(word: str) -> bool:
    return _SHORTEST_MENDED <= len(word) <= _LONGEST and word.isalpha()


def _keys(word: str) -> list[int]:
    forms = {word} | {word[:at] + word[at + 1 :] for at in range(len(word))}
    return [crc32(form.encode()) for form in forms]


def _table(words: Sequence[str]) -> tuple[npt.NDArray[np.uint32], Ints]:
    keys, owners = array("I"), array("i")
    for n, word in enumerate(words):
        mine = _keys(word)
        keys.extend(mine)
        owners.extend([n] * len(mine))
    found, whose = np.frombuffer(keys, dtype=np.uint32) if keys else _NONE, np.asarray(owners, dtype=np.int32)
    order = np.argsort(found, kind="stable")
    return found[order], whose[order]
