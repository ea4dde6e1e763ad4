"""Cut typed or dictated text into words, measures, codes and part numbers, each in one spelling."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from typing import Literal

from baylore_kb.amounts import plain_measure, spoken_to_digits, unit_of

Kind = Literal["word", "number", "measure", "code", "part", "stop"]

MAX_CHARS = 20_000
MAX_WORD = 40

# SAE J2012 shape: letter, 0 to 3, three hex digits; o is often typed for zero.
_TYPED_CODE = (
    r"(?P<letter>[pcbu])(?:-|(?<=p)\s|(?<=[cbu])\s(?!(?:19[5-9]|20[0-3])\d\b))?(?P<digits>[0-3o][0-9a-fo]{3})"
)
_SPELT_CODE = r"(?P<spelt_letter>[pbu])(?P<spelt>(?:[ -](?:oh|o|\d)|(?<=[ \d])\d){4})"
_SUFFIX = r"(?:[-:](?P<suffix>[0-9a-f]{2}))?"
_EDGE = r"(?![\w])"
CODE = re.compile(rf"(?<!\w)(?:{_TYPED_CODE}|{_SPELT_CODE}){_SUFFIX}{_EDGE}")

_VALUE = r"(?P<value>[-+]?(?<![\d.,])\d{1,9}(?:[.,]\d{1,9})?)"
_MEASURE = _VALUE + r"\s?(?P<unit>%|\"hg|[°a-zω]{1,12}(?:/[a-z]{1,3}|-lb|-ft)?)(?!\w)"
# Every repeat is bounded: a page of dashes must not cost the square of its length.
_PART = r"(?P<part>(?=[a-z/.-]{0,24}\d)[a-z0-9]{1,24}(?:[-./][a-z0-9]{1,24}){0,6})(?!\w)"
_SHORT = r"(?P<short>[a-z]{1,2}(?:/[a-z]{1,2})+|[a-z](?:\.[a-z])+\.?)(?!\w)"
_WORD = r"(?P<word>[^\W_]+(?:'[^\W\d_]+)?)"
_NUMBER = r"(?P<number>\d+[.,]\d+)(?!\w)"
_STOP = r"(?P<stop>[.;!?\n]+)"
_SCAN = re.compile("|".join((_MEASURE, _NUMBER, _SHORT, _PART, _WORD, _STOP)))


@dataclass(frozen=True, slots=True)
class Token:
    """A piece of text in its one spelling; `shown` is how it was written, `also` further spellings."""

    text: str
    kind: Kind
    shown: str
    also: tuple[str, ...] = ()


def fold(text: str) -> str:
    """`text` in compatibility form, lower case, without accents or control signs.

    Only the first MAX_CHARS characters are read, so that time stays bounded.
    """
    if text.isascii():
        return text[:MAX_CHARS].lower().replace("`", "'")
    wide = unicodedata.normalize("NFKC", text[:MAX_CHARS])[:MAX_CHARS].casefold()
    bare = "".join(c for c in unicodedata.normalize("NFKD", wide) if not unicodedata.combining(c))
    return bare[:MAX_CHARS].replace("’", "'").replace("`", "'")


def code_in(match: re.Match[str]) -> str | None:
    """The five-character code of a CODE match in upper case, None where it is only a word."""
    letter = match["letter"] or match["spelt_letter"]
    body = match["digits"] or re.sub(r"[ -]", "", match["spelt"].replace("oh", "o"))
    if match["letter"] and sum(c.isdigit() for c in body) < 2:
        return None
    code = (letter + body.replace("o", "0")).upper()
    return code if code[1] in "0123" else None


def split(text: str) -> tuple[Token, ...]:
    """The tokens of `text` in order; empty text gives none. Any Unicode text is accepted."""
    folded = spoken_to_digits(fold(text))
    tokens: list[Token] = []
    at = 0
    for found in CODE.finditer(folded):
        code = code_in(found)
        if code is None:
            continue
        tokens += _plain(folded[at : found.start()])
        tokens.append(Token(code, "code", found[0]))
        at = found.end()
    return tuple(tokens + _plain(folded[at:]))


def _plain(text: str) -> list[Token]:
    tokens: list[Token] = []
    at = 0
    while found := _SCAN.search(text, at):
        token, at = _token(found)
        if token is not None:
            tokens.append(token)
    return tokens


def _token(found: re.Match[str]) -> tuple[Token | None, int]:
    """The token of a scan match and where to go on; a number with no unit gives back its word."""
    if found["value"] is not None:
        return _measure(found)
    if found["part"] is not None:
        return _part(found)
    kind = found.lastgroup
    if kind == "stop":
        return Token(".", "stop", found[0]), found.end()
    if kind == "short":
        return Token(re.sub(r"\W", "", found[0]), "word", found[0]), found.end()
    text = found[0].replace(",", ".")
    return Token(text[:MAX_WORD], "number" if _numeric(text) else "word", found[0][:MAX_WORD]), found.end()


def _numeric(text: str) -> bool:
    return text.replace(".", "", 1).isdecimal()


def _measure(found: re.Match[str]) -> tuple[Token | None, int]:
    unit = unit_of(found["unit"], glued=found.end("value") == found.start("unit"))
    value = found["value"].replace(",", ".").lstrip("+")
    if unit is not None:
        return Token(value + unit, "measure", found[0], plain_measure(float(value), unit)), found.end()
    if found.end("value") == found.start("unit"):
        # "4wd" and "2nd" are words of their own
        return Token(found[0].lstrip("+-"), "word", found[0]), found.end()
    return Token(value.lstrip("-"), "number", found["value"]), found.end("value")


def _part(found: re.Match[str]) -> tuple[Token | None, int]:
    """A part number whole; short pieces joined by a dash or slash come back one at a time."""
    text = found["part"]
    bare = re.sub(r"\W", "", text)
    if _numeric(text):
        return Token(text, "number", text), found.end()
    if len(bare) >= 5 and _like_a_number(text):
        return Token(text, "part", text, _part_spellings(text, bare)), found.end()
    piece = re.split(r"\W", text)[0]
    return Token(piece, "number" if piece.isdecimal() else "word", piece), found.start() + len(piece)


def _part_spellings(text: str, bare: str) -> tuple[str, ...]:
    """A part number without its dashes, and its longer pieces; one without dashes has no other spelling."""
    if bare == text:
        return ()
    return (bare, *(piece for piece in re.split(r"\W", text) if len(piece) >= 3))


def _like_a_number(text: str) -> bool:
    """Whether digits outweigh what a joined pair of words would have: "ab-1234" is, "top-2nd" is not."""
    return sum(c.isdigit() for c in text) >= 3
