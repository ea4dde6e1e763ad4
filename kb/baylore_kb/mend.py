"""Mend words nobody knows to the shop's nearest word, and say which was read as which."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from rapidfuzz import fuzz

from baylore_kb.amounts import NUMBER_WORDS
from baylore_kb.once_each import once_each
from baylore_kb.senses import form_key
from baylore_kb.tokens import MAX_CHARS, fold
from baylore_kb.trade.model import Symptom, Trade
from baylore_kb.values import ReadAs, ReadKind
from baylore_kb.vocabulary import Phrase, Vocabulary

_WORD = re.compile(r"[^\W_]+(?:['’][^\W\d_]+)?")
_CHUNK = re.compile(r"\S+")
SHORTEST = 3
_TWO_SLIPS_FROM = 8
_LONGEST = 30
_LONGEST_PHRASE = 5
_VOWELS = frozenset("aeiou")
_SURE_PHRASE = 55.0
Way = Callable[[str, Vocabulary], str | None]


class _Spot(NamedTuple):
    """A word of the text; `plain` when no digit stands in the same run of signs."""

    start: int
    end: int
    word: str
    plain: bool


def mend(
    text: str, vocabulary: Vocabulary, *, kept: frozenset[str] = frozenset()
) -> tuple[str, tuple[ReadAs, ...]]:
    """`text` with unknown words mended, and each change; known text comes back as it is.

    Mis-heard phrases and those of another language first, then words split or run together, then single
    slips (two from eight letters) and short hand. Numbers, codes, part numbers, known words and the words and
    phrases of `kept` (as `phrase_key` gives them) are never touched. `applied` makes the mended text of the
    changes.
    """
    text = text[:MAX_CHARS]
    changes = tuple(
        ReadAs(text[start:end], read, kind, start)
        for run in _runs(tuple(_spots(text)), kept)
        for start, end, kind, read in _changes(run, vocabulary)
    )
    return applied(text, changes), changes


def applied(text: str, changes: Iterable[ReadAs]) -> str:
    """The text with each change that has a place made in it; none gives it as it is."""
    pieces: list[str] = []
    done = 0
    for each in sorted((each for each in changes if each.at is not None), key=lambda each: each.at or 0):
        at = each.at or 0
        pieces += [text[done:at], each.read]
        done = at + len(each.typed)
    return "".join((*pieces, text[done:]))


def phrase_key(words: str) -> str:
    """A word or phrase as it is compared: its folded words with single blanks; "" for none."""
    return " ".join(fold(word) for word in _WORD.findall(words))


def _runs(spots: Sequence[_Spot], kept: frozenset[str]) -> Iterator[Sequence[_Spot]]:
    """The stretches of words between those that stay as they are."""
    start = at = 0
    while at < len(spots):
        size = _kept_from(spots, at, kept)
        if size:
            yield spots[start:at]
            start = at + size
        at += size or 1
    yield spots[start:]


def _kept_from(spots: Sequence[_Spot], at: int, kept: frozenset[str]) -> int:
    """How many words from here on are one of the kept phrases, 0 for none."""
    words = [spot.word for spot in spots[at : at + _LONGEST_PHRASE]] if kept else []
    return next((size for size in range(len(words), 0, -1) if " ".join(words[:size]) in kept), 0)


def _changes(run: Sequence[_Spot], vocabulary: Vocabulary) -> Iterator[tuple[int, int, ReadKind, str]]:
    """From where to where the text is read as something else, of which kind, and as what."""
    at = 0
    while at < len(run):
        size, kind, read = _read(run, at, vocabulary)
        if read is not None:
            yield run[at].start, run[at + size - 1].end, kind, read
        at += size


def _spots(text: str) -> Iterator[_Spot]:
    for chunk in _CHUNK.finditer(text):
        plain = not any(c.isdigit() for c in chunk[0])
        for found in _WORD.finditer(chunk[0]):
            start = chunk.start() + found.start()
            yield _Spot(start, start + len(found[0]), fold(found[0]), plain)


def _read(spots: Sequence[_Spot], at: int, vocabulary: Vocabulary) -> tuple[int, ReadKind, str | None]:
    """How many words to go on by, and how and as what they are read (None: as they stand)."""
    if spots[at].word in _first_words(vocabulary.phrases):
        for size in range(min(_LONGEST_PHRASE, len(spots) - at), 1, -1):
            phrase = vocabulary.phrases.get(tuple(spot.word for spot in spots[at : at + size]))
            if phrase is not None:
                return size, phrase.kind, phrase.read
    if not _mendable(spots[at], vocabulary):
        return 1, "slip", None
    if at + 1 < len(spots) and spots[at + 1].plain and vocabulary.knows(spots[at].word + spots[at + 1].word):
        return 2, "joined", spots[at].word + spots[at + 1].word
    return 1, *_alone(spots[at].word, vocabulary)


@once_each
def _first_words(phrases: Mapping[tuple[str, ...], Phrase]) -> frozenset[str]:
    return frozenset(word for words in phrases for word in words[:1])


def _alone(word: str, vocabulary: Vocabulary) -> tuple[ReadKind, str | None]:
    ways: list[tuple[ReadKind, Way]] = [("slip", nearest), ("parted", _run_together), ("short", _short_hand)]
    # without vowels a word is short hand rather than a slip of a thumb
    if not _VOWELS.intersection(word[1:]):
        ways = [ways[2], *ways[:2]]
    reads = ((kind, way(word, vocabulary)) for kind, way in ways)
    return next((found for found in reads if found[1] is not None), ("slip", None))


def _mendable(spot: _Spot, vocabulary: Vocabulary) -> bool:
    word = spot.word
    if word in NUMBER_WORDS:
        return False
    return spot.plain and SHORTEST <= len(word) <= _LONGEST and word.isalpha() and not vocabulary.knows(word)


def nearest(word: str, vocabulary: Vocabulary) -> str | None:
    """The known word one slip from a folded unknown one, two from eight letters; None where none is.

    Of several the likeliest slip of the most usual word wins. Two slips are read only into what looks like
    no word, so that "rotation" is not "relation" in a shop that never wrote it.
    """
    options = [other for other in vocabulary.book.within_one(word) if vocabulary.knows(other)]
    if not options and len(word) >= _TWO_SLIPS_FROM and vocabulary.twice_slipped(word):
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


def phrases_read(trade: Trade | None) -> Mapping[tuple[str, ...], Phrase]:
    """The trade's phrases of another language, and its mis-heard ones of two words and more."""
    if trade is None:
        return {}
    translated = {_words(said): Phrase(read, "translated") for said, read in trade.phrases.items()}
    misheard = {
        key: Phrase(_meant(heard, symptom), "misheard")
        for symptom in trade.symptoms.values()
        for heard in symptom.misheard_or_typo
        if len(key := _words(heard)) >= 2 and form_key(heard)
    }
    return translated | misheard


def _words(phrase: str) -> tuple[str, ...]:
    return tuple(fold(word) for word in _WORD.findall(phrase))


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
