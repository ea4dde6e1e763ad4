"""Mend words nobody knows to the shop's nearest word, and say which was read as which."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rapidfuzz import fuzz

from baylore_kb.amounts import NUMBER_WORDS
from baylore_kb.senses import form_key
from baylore_kb.tokens import MAX_CHARS, fold
from baylore_kb.trade.model import Symptom, Trade
from baylore_kb.values import ReadAs
from baylore_kb.vocabulary import Vocabulary

_WORD = re.compile(r"[^\W_]+(?:['’][^\W\d_]+)?")
_CHUNK = re.compile(r"\S+")
SHORTEST = 3
_TWO_SLIPS_FROM = 8
_LONGEST = 30
_LONGEST_PHRASE = 5
_VOWELS = frozenset("aeiou")
_SURE_PHRASE = 55.0


@dataclass(frozen=True, slots=True)
class _Spot:
    """A word of the text; `plain` when no digit stands in the same run of signs."""

    start: int
    end: int
    word: str
    plain: bool


def mend(
    text: str, vocabulary: Vocabulary, *, kept: frozenset[str] = frozenset()
) -> tuple[str, tuple[ReadAs, ...]]:
    """`text` with unknown words mended, and each change; known text comes back as it is.

    Mis-heard phrases first, then words split or run together, then single slips (two from eight
    letters) and short hand. Numbers, codes, part numbers, known words and the folded words of `kept` are
    never touched.
    """
    text = text[:MAX_CHARS]
    spots = tuple(_spots(text))
    pieces: list[str] = []
    changes: list[ReadAs] = []
    at = done = 0
    while at < len(spots):
        size, read = _read(spots, at, vocabulary) if spots[at].word not in kept else (1, None)
        if read is not None:
            typed = text[spots[at].start : spots[at + size - 1].end]
            changes.append(ReadAs(typed, read))
            pieces += [text[done : spots[at].start], read]
            done = spots[at + size - 1].end
        at += size
    return "".join((*pieces, text[done:])), tuple(dict.fromkeys(changes))


def _spots(text: str) -> Iterator[_Spot]:
    for chunk in _CHUNK.finditer(text):
        plain = not any(c.isdigit() for c in chunk[0])
        for found in _WORD.finditer(chunk[0]):
            start = chunk.start() + found.start()
            yield _Spot(start, start + len(found[0]), fold(found[0]), plain)


def _read(spots: tuple[_Spot, ...], at: int, vocabulary: Vocabulary) -> tuple[int, str | None]:
    """How many words to go on by, and what they are read as (None: as they stand)."""
    for size in range(min(_LONGEST_PHRASE, len(spots) - at), 1, -1):
        read = vocabulary.misheard.get(tuple(spot.word for spot in spots[at : at + size]))
        if read is not None:
            return size, read
    if not _mendable(spots[at], vocabulary):
        return 1, None
    if at + 1 < len(spots) and spots[at + 1].plain and vocabulary.knows(spots[at].word + spots[at + 1].word):
        return 2, spots[at].word + spots[at + 1].word
    word = spots[at].word
    ways = [nearest, _run_together, _short_hand]
    # without vowels a word is short hand rather than a slip of a thumb
    if not _VOWELS.intersection(word[1:]):
        ways = [_short_hand, nearest, _run_together]
    return 1, next((read for way in ways if (read := way(word, vocabulary)) is not None), None)


def _mendable(spot: _Spot, vocabulary: Vocabulary) -> bool:
    word = spot.word
    if word in NUMBER_WORDS:
        return False
    return spot.plain and SHORTEST <= len(word) <= _LONGEST and word.isalpha() and not vocabulary.knows(word)


def nearest(word: str, vocabulary: Vocabulary) -> str | None:
    """The known word one slip from a folded unknown one, two from eight letters; None where none is.

    Of several the likeliest slip of the most usual word wins.
    """
    options = [other for other in vocabulary.book.within_one(word) if vocabulary.knows(other)]
    if not options and len(word) >= _TWO_SLIPS_FROM:
        options = vocabulary.book.within_two(word, vocabulary.holds)
    options = [other for other in options if len(other) >= SHORTEST and other.isalpha()]
    if not options:
        return None
    return max(options, key=lambda other: (_slip(word, other) * (1 + vocabulary.usage(other)), other))


def _slip(typed: str, meant: str) -> float:
    """How likely a thumb makes this slip, against the others: a letter left out or two swapped come first."""
    likely = 4.0 if len(meant) > len(typed) or sorted(meant) == sorted(typed) else 1.0
    if len(meant) == len(typed):
        likely = max(likely, 2.0)
    return likely if meant[0] == typed[0] else likely / 8.0


def _run_together(word: str, vocabulary: Vocabulary) -> str | None:
    """Two known words typed as one, the split whose rarer half is the most usual; None without one."""
    cuts = [(word[:at], word[at:]) for at in range(SHORTEST, len(word) - SHORTEST + 1)]
    known = [cut for cut in cuts if all(vocabulary.knows(half) for half in cut)]
    if not known:
        return None
    return " ".join(max(known, key=lambda cut: min(vocabulary.usage(half) for half in cut)))


def _short_hand(word: str, vocabulary: Vocabulary) -> str | None:
    """What a word that was cut short or lost its vowels stands for; None where it looks like none."""
    if vocabulary.short_hand is None:
        return None
    read = vocabulary.short_hand.unseen(word)
    return read if read != word and read.isalpha() else None


def misheard_phrases(trade: Trade | None) -> Mapping[tuple[str, ...], str]:
    """What the trade's mis-heard phrases of two words and more were likely meant to say."""
    if trade is None:
        return {}
    return {
        key: _meant(heard, symptom)
        for symptom in trade.symptoms.values()
        for heard in symptom.misheard_or_typo
        if len(key := tuple(fold(word) for word in _WORD.findall(heard))) >= 2 and form_key(heard)
    }


def _meant(heard: str, symptom: Symptom) -> str:
    """The phrasing of the symptom that sounds most like what was heard, its title where none does."""
    whole = (*symptom.written_by_tech, *symptom.said_by_customer)
    # a phrase of two halves must not put the unheard half into the member's mouth
    phrases = tuple(part.strip() for phrase in whole for part in (phrase, *phrase.split(",")))
    likeness = [fuzz.ratio(fold(heard), fold(phrase)) for phrase in phrases]
    best = max(range(len(phrases)), key=lambda n: likeness[n], default=None)
    if best is None or likeness[best] < _SURE_PHRASE:
        return symptom.title
    return phrases[best]
