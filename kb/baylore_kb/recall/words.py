"""From text to term numbers, as fast as a table can: each written word is read once."""

from __future__ import annotations

import re
from array import array
from collections.abc import Iterable, Sequence
from zlib import crc32

import numpy as np
import numpy.typing as npt
from rapidfuzz.distance import OSA

from baylore_kb.recall.layout import Ints, Longs
from baylore_kb.stems import STOP_WORDS, stem
from baylore_kb.tokens import MAX_CHARS, fold

# Stands with every saved index: what another version read must be read anew.
READING = "1"
_WORD = re.compile(r"\w+")
_LONGEST = 40
# Words shorter than this, or with a digit, are never mended; from eight letters two slips are.
_SHORTEST_MENDED, _TWO_SLIPS_FROM = 4, 8
_MOST_NEAR = 3
_NONE = np.zeros(0, dtype=np.uint32)


def words_of(text: str) -> list[str]:
    """The words of a text in order, folded; an apostrophe is passed over: "won't" is "wont"."""
    plain = text.lower() if text.isascii() and len(text) <= MAX_CHARS else fold(text)
    return _WORD.findall(plain.replace("'", "") if "'" in plain else plain)


class Words(dict[str, int]):
    """Every written word with the number of its stem; -1 for words that carry no fault."""

    def __init__(self, written: Iterable[str] = ()) -> None:
        super().__init__()
        self._numbers: dict[str, int] = {}
        for word in written:
            self[word]

    def __missing__(self, word: str) -> int:
        number = (
            -1 if word in STOP_WORDS else self._numbers.setdefault(stem(word[:_LONGEST]), len(self._numbers))
        )
        self[word] = number
        return number

    @property
    def terms(self) -> int:
        """How many numbers were given."""
        return len(self._numbers)

    def read(self, texts: Iterable[str]) -> tuple[Ints, Longs]:
        """The numbers of all words of the texts, one text after the other, and where each ends."""
        flat, ends = array("i"), array("q")
        number = self.__getitem__
        for text in texts:
            flat.extend(map(number, words_of(text)))
            ends.append(len(flat))
        return np.frombuffer(flat, dtype=np.int32), np.frombuffer(ends, dtype=np.int64)


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
