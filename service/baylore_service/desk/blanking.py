"""Find what points to a person in free text, so that it does not leave the shop.

A text without any of it comes back as it is. What is found is rather too much than too little: whoever shares
sees it first. No published rule covers all plates and phone numbers; the patterns are our own.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from typing import Literal

Kind = Literal["e-mail", "phone", "plate", "name", "vin"]
BLANK = "…"
VIN_KEPT = 11

_MAIL = re.compile(r"[\w.+-]+@[\w-]+(\.[\w-]+)+")
_VIN = re.compile(r"\b[A-HJ-NPR-Z0-9]{17}\b", re.IGNORECASE)
_PHONE = re.compile(r"(?<![\w.])\+?\(?\d[\d ()/.-]{5,}\d(?![\w])")
_DATE = re.compile(r"(\d{4}-\d{1,2}-\d{1,2}|\d{1,2}[./-]\d{1,2}[./-]\d{2,4})")
_NUMBER = re.compile(r"\d{1,4}(\.\d+)?|\d+\.\d+")
# A plate that is called one, or one that looks it: letters and digits in two or three groups.
_NAMED_PLATE = re.compile(
    r"\b(?:plate|reg(?:istration)?|licen[cs]e)\b[:. ]*(?:no\.?|number)?[: ]*(?P<it>\S+(?: \S+)?)",
    re.IGNORECASE,
)
_GROUPS = (
    r"[A-Z]{1,3}[ -]\d{1,4}[ -][A-Z]{1,3}",
    r"[A-Z]{2}\d{2} ?[A-Z]{3}",
    r"[A-Z]{2,3}[ -]\d{3,5}",
    r"\d{3,4}[ -][A-Z]{3}",
)
_PLATE = re.compile(rf"\b(?:{'|'.join(_GROUPS)})\b")
_PATTERNS: tuple[tuple[Kind, re.Pattern[str]], ...] = (
    ("vin", _VIN),
    ("e-mail", _MAIL),
    ("plate", _NAMED_PLATE),
    ("plate", _PLATE),
    ("phone", _PHONE),
)
_LEAST_PHONE_DIGITS, _LEAST_NAME = 7, 3


@dataclass(frozen=True, slots=True)
class Blanked:
    """What was taken out of a text, and as what."""

    kind: Kind
    was: str


def blanked(text: str, names: Iterable[str]) -> tuple[str, tuple[Blanked, ...]]:
    """The text without e-mail addresses, phone numbers, plates and these names, and what was taken out.

    A VIN keeps its first eleven characters, which tell the kind of car and not the one. Names are found whole
    as written or in another case, and by their single words where these begin with a capital.
    """
    taken: list[Blanked] = []
    for kind, pattern in (*_PATTERNS, *_naming(names)):
        text = pattern.sub(partial(_blank, kind=kind, taken=taken), text)
    return text, tuple(taken)


def _blank(found: re.Match[str], *, kind: Kind, taken: list[Blanked]) -> str:
    """What stands in the place of what was found; that itself where it is none after all."""
    was = found["it"] if "it" in found.re.groupindex else found[0]
    if (kind == "phone" and not _is_phone(was)) or (kind == "plate" and not any(map(str.isdigit, was))):
        return found[0]
    taken.append(Blanked(kind, was))
    return found[0].replace(was, (was[:VIN_KEPT] if kind == "vin" else "") + BLANK)


def _is_phone(found: str) -> bool:
    """Whether so many digits are a number to call, not a date and not readings one after the other."""
    if sum(map(str.isdigit, found)) < _LEAST_PHONE_DIGITS or _DATE.fullmatch(found.strip()):
        return False
    parts = found.split()
    return not (len(parts) > 1 and any("." in part for part in parts) and all(map(_NUMBER.fullmatch, parts)))


def _naming(names: Iterable[str]) -> Iterator[tuple[Kind, re.Pattern[str]]]:
    """Longest names first; then their words, as capitalised words only: "Will" is a name, "will" is none."""
    every = sorted({" ".join(name.split()) for name in names if name.strip()}, key=len, reverse=True)
    for name in every:
        yield "name", re.compile(rf"(?<!\w){re.escape(name)}(?!\w)", re.IGNORECASE if " " in name else 0)
    words = {word for name in every for word in name.split() if len(word) >= _LEAST_NAME}
    for word in sorted(words, key=lambda word: (-len(word), word)):
        yield "name", re.compile(rf"(?<!\w){re.escape(word[0].upper() + word[1:])}(?!\w)")
