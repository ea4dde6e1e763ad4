"""The analyzer: one way of reading text, for the index and for the question alike."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from baylore_kb.kindred import kindred
from baylore_kb.senses import Expansion, Senses
from baylore_kb.stems import STOP_WORDS, is_light, is_negator, stem
from baylore_kb.tokens import Token, split
from baylore_kb.trade.model import Trade

# Stands with every index: a snapshot read by another version must be built anew.
VERSION = "1"

CHAR_SIZES = (3, 4, 5)
_NEGATION_REACH = 4
# Titles, causes and corrections come again and again; long texts hardly ever do.
_SHORT, _MOST_KEPT = 120, 5_000


@dataclass(frozen=True, slots=True)
class Analysis:
    """A text as the engine reads it.

    `terms` are single stems and pairs (pairs hold a blank), repeats kept, negated ones start with "not_";
    `stems` are those as written, in order, negations and plain terms left out;
    `words` are the content words as written plus the plain terms of abbreviations, for spelling;
    `shown` gives each term in words a member can read; `codes` are canonical trouble codes.
    Empty text gives empty fields.
    """

    terms: tuple[str, ...] = ()
    stems: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    codes: tuple[str, ...] = ()
    shown: Mapping[str, str] = field(default_factory=dict)
    expansions: tuple[Expansion, ...] = ()

    def chars(self) -> tuple[str, ...]:
        """Character n-grams of the words, sizes 3 to 5, none across a word's edge."""
        return tuple(gram for word in self.words for gram in word_grams(word))


@dataclass(frozen=True, slots=True)
class _Piece:
    """A content word on its way to terms; `breaks` when no pair may start here."""

    term: str
    shown: str
    words: tuple[str, ...]
    also: tuple[str, ...] = ()
    breaks: bool = False


class Analyzer:
    """Reads text with the trade's abbreviations; without a trade list it reads plain words only."""

    version = VERSION

    def __init__(self, trade: Trade | None = None) -> None:
        self._senses = Senses(trade)
        self._short: dict[str, Analysis] = {}

    def analyze(self, text: str, *, kept: frozenset[tuple[str, ...]] = frozenset()) -> Analysis:
        """The `Analysis` of any text; time grows with its length, and only its first part is read.

        The abbreviations of `kept`, as `form_key` gives them, are read as plain words.
        """
        if len(text) > _SHORT or kept:
            return self._read(text, kept)
        known = self._short.get(text)
        if known is None:
            known = self._read(text)
            if len(self._short) >= _MOST_KEPT:
                self._short.clear()
            self._short[text] = known
        return known

    def _read(self, text: str, kept: frozenset[tuple[str, ...]] = frozenset()) -> Analysis:
        tokens = split(text)
        expansions = self._senses.read(tokens, kept=kept)
        plain = {expansion.start: expansion for expansion in expansions}
        pieces = tuple(_pieces(tokens, plain))
        shown: dict[str, str] = {}
        terms = tuple(_terms(pieces, shown))
        words = tuple(word for piece in pieces for word in piece.words)
        stems = tuple(piece.term.removeprefix("not_") for piece in pieces)
        codes = tuple(dict.fromkeys(token.text for token in tokens if token.kind == "code"))
        return Analysis(terms, stems, words, codes, shown, expansions)


def _pieces(tokens: Sequence[Token], plain: Mapping[int, Expansion]) -> Iterator[_Piece]:
    negated_until = -1
    breaks = True
    for at, token in enumerate(tokens):
        expansion = plain.get(at)
        if token.kind == "stop":
            negated_until, breaks = -1, True
        elif is_negator(token.text) and expansion is None:
            negated_until = at + _NEGATION_REACH
        elif not (token.text in STOP_WORDS and expansion is None):
            negated = at <= negated_until and token.kind == "word"
            if negated and is_light(token.text):
                continue
            yield _piece(token, expansion, negated=negated, breaks=breaks)
            negated_until, breaks = -1, False


def _piece(token: Token, expansion: Expansion | None, *, negated: bool, breaks: bool) -> _Piece:
    glue = "not_" if negated else ""
    shown = f"not {token.shown}" if negated else token.shown
    spelt = () if token.kind in ("measure", "number", "code") else (token.text,)
    plain = plain_words(expansion.plain) if expansion else ()
    root = stem(token.text)
    beside = (*(stem(word) for word in plain if word not in STOP_WORDS), *kindred(root))
    also = tuple(glue + term for term in beside)
    words = tuple(dict.fromkeys((*spelt, *token.also, *plain))) if token.kind != "measure" else ()
    return _Piece(glue + root, shown, words, (*token.also, *also), breaks)


@lru_cache(maxsize=4096)
def plain_words(plain: str) -> tuple[str, ...]:
    """The words of a plain term without what stands in brackets."""
    without_brackets = re.sub(r"\([^)]*\)", " ", plain)
    return tuple(token.text for token in split(without_brackets) if token.kind == "word")


def _terms(pieces: Sequence[_Piece], shown: dict[str, str]) -> Iterator[str]:
    """Single terms first come as written, then the plain ones beside them, then the pair with the last."""
    last: _Piece | None = None
    for piece in pieces:
        yield _note(piece.term, piece.shown, shown)
        for term in piece.also:
            if term != piece.term:
                yield _note(term, piece.shown, shown)
        if last is not None and not piece.breaks:
            yield _note(f"{last.term} {piece.term}", f"{last.shown} {piece.shown}", shown)
        last = piece


def _note(term: str, words: str, shown: dict[str, str]) -> str:
    shown.setdefault(term, words)
    return term


@lru_cache(maxsize=100_000)
def word_grams(word: str) -> tuple[str, ...]:
    """Character n-grams of a blank-padded word, cut as scikit-learn's `char_wb` does."""
    padded = f" {word} "
    grams: list[str] = []
    for size in CHAR_SIZES:
        grams += [padded[at : at + size] for at in range(max(1, len(padded) - size + 1))]
        if len(padded) <= size:
            break
    return tuple(grams)
