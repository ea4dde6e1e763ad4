"""Workshop short hand into plain words: learned from pairs of what was written and what was meant.

Words seen before are read by how often each reading was meant, more so beside the same neighbours. Others are
read by what short hand does: slashes between words, vowels left out ("rplc"), words cut short ("insp"), a
slipped letter, each only where the word looks like nothing that is said: its rarest run of three letters
tells. Without pairs it reads by the words it is given alone. Measured in `test_workshop_spelling.py`.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from rapidfuzz import process
from rapidfuzz.distance import OSA

Words = Sequence[str]
Pair = tuple[Words, Words]

# What a reading counts by itself, after the same word, before the same word, between the same two.
_SHARES = (1.0, 3.0, 3.0, 2.0)
_VOWELS = re.compile("[aeiou]")
_MASK = "<"
_EDGES = ("^", "$")
# How often the rarest three letters of a word occur in known words, at most, to read it as ...
_WITHOUT_VOWELS, _CUT, _SLIPPED_SHORT, _SLIPPED, _SLIPPED_TWICE = 20, 30, 4, 8, 2
# ... and how often the word it is read as must have been meant.
_OFTEN, _VERY_OFTEN = 3, 8
_ENDINGS = {
    "s": ("",), "es": ("",), "d": ("",), "y": ("",), "ly": ("",), "ment": ("",), "ed": ("", "e"),
    "ing": ("", "e"), "er": ("", "e"), "ers": ("", "e"), "able": ("", "e"), "ation": ("e", ""),
}  # fmt: skip
_GROWN = ("s", "ed", "ing", "e", "er")


@dataclass(frozen=True, slots=True)
class _Reading:
    """A word in its place."""

    before: str
    word: str
    after: str

    def counted_by(self) -> tuple[tuple[str, ...], ...]:
        """What its readings are counted by, the widest first."""
        return (
            (self.word,),
            (self.before, self.word, ""),
            ("", self.word, self.after),
            (self.before, self.word, self.after),
        )


class Speller:
    """Reads short hand; nothing in it changes after it has learned."""

    def __init__(self, pairs: Iterable[Pair] = (), *, words: Mapping[str, int] | None = None) -> None:
        """Learn from pairs of written and meant words, as many of each; `words` are known with their use.

        A meant word may hold several ("left hand") or none. Raises ValueError for a pair of unequal length.
        """
        self._readings: dict[tuple[str, ...], Counter[str]] = defaultdict(Counter)
        self._meant: Counter[str] = Counter()
        for written, meant in pairs:
            self._learn(written, meant)
        self._known = frozenset(self._meant) | frozenset(words or ())
        self._meant.update({word: use for word, use in (words or {}).items() if word.isalpha()})
        self._candidates = [word for word in self._meant if len(word) > 2]
        self._runs = Counter(run for word in self._known if word.isalpha() for run in _runs(word))
        self._bare, self._starts = _by_consonants(self._candidates), _by_start(self._candidates)
        self._kept: dict[str, str] = {}

    def _learn(self, written: Words, meant: Words) -> None:
        for place, read in zip(_placed(written), meant, strict=True):
            for key in place.counted_by():
                self._readings[key][read] += 1
            if not read.startswith(_MASK):
                self._meant.update(word for word in read.split() if word.isalpha())

    def read(self, written: Words) -> tuple[str, ...]:
        """What each written word was likely meant as, itself where nothing is known; no words give ()."""
        return tuple(self._of_place(place) for place in _placed(written))

    def _of_place(self, place: _Reading) -> str:
        votes: dict[str, float] = {}
        for key, share in zip(place.counted_by(), _SHARES, strict=True):
            for read, times in self._readings.get(key, {}).items():
                total = self._readings[key].total() + 1.0
                votes[read] = votes.get(read, 0.0) + share * times / total
        return max(votes, key=lambda read: (votes[read], read)) if votes else self.unseen(place.word)

    def unseen(self, word: str) -> str:
        """The reading of a folded word that no pair holds."""
        if word not in self._kept:
            self._kept[word] = word if word in self._known or len(word) < 2 else self._guess(word)
        return self._kept[word]

    def rarest(self, word: str) -> int:
        """In how many known words the rarest three letters of a folded word come; few look like a slip."""
        return min(self._runs[run] for run in _runs(word))

    def twice_slipped(self, word: str) -> bool:
        """Whether a folded word looks so little like any that two slips are likelier than a rare word."""
        return self.rarest(word) <= _SLIPPED_TWICE

    def _guess(self, word: str) -> str:
        if not word.isalpha():
            return self._with_signs(word)
        if self._grown_from_known(word):
            return word
        odd = self.rarest(word)
        guesses = (self._without_vowels(word, odd), self._slipped(word, odd), self._cut(word, odd))
        return next((guess for guess in guesses if guess is not None), word)

    def _with_signs(self, word: str) -> str:
        """Slashes and dots: letters of short hand ("l/h/s"), words joined ("in/out"), stops at an edge."""
        letters = re.sub(r"[^a-z0-9]", "", word)
        if "/" in word and letters.isalpha() and len(letters) <= 4 and (letters,) in self._readings:
            return self._readings[letters,].most_common(1)[0][0]
        trimmed = word.strip(".,;:")
        if trimmed and trimmed != word:
            return self._alone(trimmed)
        parts = [part for part in re.split(r"([/&])", word) if part]
        if len(parts) > 1 and all(part in "/&" or self._knows(part) for part in parts):
            return " ".join("and" if p == "&" else p if p == "/" else self._alone(p) for p in parts)
        return word

    def _knows(self, word: str) -> bool:
        return word in self._known or (word,) in self._readings

    def _alone(self, word: str) -> str:
        held = self._readings.get((word,))
        return held.most_common(1)[0][0] if held else self.unseen(word)

    def _grown_from_known(self, word: str) -> bool:
        """Whether it is another form of a known word: "leaking" beside "leak"."""
        for ending, stems in _ENDINGS.items():
            bare = word.removesuffix(ending)
            if bare != word and any(bare + stem in self._known for stem in stems):
                return True
            doubled = bare != word and len(bare) > 3 and bare[-1] == bare[-2]
            if doubled and bare[:-1] in self._known:
                return True
        return any(word + ending in self._known for ending in _GROWN)

    def _without_vowels(self, word: str, odd: int) -> str | None:
        if odd > _WITHOUT_VOWELS:
            return None
        return self._most_usual(
            (o for o in self._bare.get(_consonants(word), ()) if len(o) > len(word)), _OFTEN
        )

    def _slipped(self, word: str, odd: int) -> str | None:
        if len(word) < 4:
            return None
        most = 2 if len(word) >= 8 else 1
        near = process.extract(word, self._candidates, scorer=OSA.distance, score_cutoff=most, limit=12)
        found = [(d, -self._meant[o], o) for o, d, _ in near if self._meant[o] >= 2 and o[0] == word[0]]
        if not found:
            return None
        slips, _, other = min(found)
        limit = _SLIPPED_TWICE if slips == 2 else _SLIPPED if len(word) > 5 else _SLIPPED_SHORT
        return other if odd <= limit else None

    def _cut(self, word: str, odd: int) -> str | None:
        longer = self._starts.get(word, ())
        best = self._most_usual(longer, _VERY_OFTEN) if len(word) >= 3 and odd <= _CUT else None
        sure = best is not None and 2 * self._meant[best] >= sum(self._meant[other] for other in longer)
        return best if sure else None

    def _most_usual(self, words: Iterable[str], least: int) -> str | None:
        best = max(((self._meant[word], word) for word in words), default=(0, ""))
        return best[1] if best[0] >= least else None


def _placed(written: Words) -> Iterator[_Reading]:
    """Each word, folded, between its neighbours."""
    words = [_EDGES[0], *(word.lower() for word in written), _EDGES[1]]
    return (_Reading(*words[n : n + 3]) for n in range(len(written)))


def _consonants(word: str) -> str:
    return word[0] + _VOWELS.sub("", word[1:])


def _runs(word: str) -> list[str]:
    """The runs of three letters of a word, its edges among them."""
    padded = f"  {word} "
    return [padded[at : at + 3] for at in range(len(word) + 1)]


def _by_consonants(words: Iterable[str]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = defaultdict(list)
    for word in words:
        found[_consonants(word)].append(word)
    return found


def _by_start(words: Iterable[str]) -> dict[str, list[str]]:
    found: dict[str, list[str]] = defaultdict(list)
    for word in words:
        for size in range(2, len(word)):
            found[word[:size]].append(word)
    return found
