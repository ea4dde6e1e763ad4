"""Trouble codes: read, normalise, tell the family, and weigh by how rare they are in the shop."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from baylore_kb.errors import MalformedCode
from baylore_kb.tokens import fold, split

_CODE = re.compile(r"([pcbu])([0-3o][0-9a-fo]{3})(?:[-:]?([0-9a-f]{2}))?")
_LETTERS = "PCBU"

# System hints by the ranges of SAE J2012, from memory.
_POWERTRAIN = {
    "0": ("fuel", "air_intake"),
    "1": ("fuel", "air_intake"),
    "2": ("fuel",),
    "3": ("ignition",),
    "4": ("emissions",),
    "5": ("engine_mech",),
    "6": ("network",),
    "7": ("transmission",),
    "8": ("transmission",),
    "9": ("transmission",),
    "A": ("hv",),
    "B": ("hv",),
    "C": ("hv",),
}
_BY_LETTER = {
    "C": ("abs_stab", "brakes", "steering", "suspension"),
    "B": ("body_elec", "restraint", "aircon", "lighting"),
    "U": ("network",),
}
# A weak battery sets these in many modules at once (SAE J2012 titles, from memory).
_WEAK_BATTERY = "P0560 P0561 P0562 P0563 P2503 P2504 P2505 U3003 U3006 C0899 C0900"
LOW_VOLTAGE = frozenset(_WEAK_BATTERY.split())
_COMMON = frozenset(LOW_VOLTAGE | {"P0600", "P0606", "P0601", "P1000"})


@dataclass(frozen=True, slots=True)
class Code:
    """A canonical five-character code and its failure-type byte (two hex digits) where one was given."""

    code: str
    failure_type: str | None = None


def read_code(text: str, *, field: str = "codes") -> Code:
    """The code `text` stands for; blanks, dashes, lower case and the letter o for zero are fine.

    A failure-type byte ("P0301-13", "P0301:13") is kept apart.
    Raises MalformedCode, naming `field`, for anything else.
    """
    bare = re.sub(r"[\s_.()]+", "", fold(text))
    bare = bare[:1] + bare[1:].removeprefix("-")
    found = _CODE.fullmatch(bare) or _CODE.fullmatch(bare.replace("-", ""))
    if found is None:
        raise MalformedCode(text, field=field)
    failure_type = found[3].upper() if found[3] else None
    return Code((found[1] + found[2].replace("o", "0")).upper(), failure_type)


def parse_code(text: str, *, field: str = "codes") -> str:
    """The canonical five-character form of a code, such as "P0301". Raises MalformedCode."""
    return read_code(text, field=field).code


def find_codes(text: str) -> tuple[str, ...]:
    """The codes written in free text, canonical, in order, each once; none gives an empty tuple."""
    return tuple(dict.fromkeys(token.text for token in split(text) if token.kind == "code"))


def from_hex(text: str) -> str:
    """The code of two bytes in hexadecimal: "0133" is P0133, "C100" is U0100.

    Two bits of letter, two of digit, twelve of hex: the layout of ISO 15031-6, from memory.
    Raises MalformedCode unless `text` is four hex digits, blanks and 0x aside.
    """
    bare = re.sub(r"\s+", "", text).lower().removeprefix("0x")
    if not re.fullmatch(r"[0-9a-f]{4}", bare):
        raise MalformedCode(text)
    value = int(bare, 16)
    return f"{_LETTERS[value >> 14]}{value >> 12 & 3}{value & 0xFFF:03X}"


def is_generic(code: str) -> bool:
    """Whether a canonical code means the same on every make (SAE J2012 ranges, from memory)."""
    if code[0] == "P":
        return code[1] in "02" or (code[1] == "3" and code[2] in "456789ABCDEF")
    return code[1] == "0" or (code[0] == "U" and code[1] == "3")


def system_hints(code: str) -> tuple[str, ...]:
    """Systems a canonical code points at, first suspect first; maker-specific ones only by their letter."""
    if code[0] != "P":
        return _BY_LETTER[code[0]]
    return _POWERTRAIN.get(code[2], ("network",)) if is_generic(code) or code[2].isdigit() else ()


def is_common(code: str) -> bool:
    """Whether a code says little by itself: low voltage, lost communication, module memory."""
    return code in _COMMON or re.match(r"U0[01]", code) is not None


def low_battery_set(codes: Iterable[str]) -> bool:
    """Whether the codes together look like one weak battery: a voltage code, or three lost modules."""
    codes = tuple(codes)
    lost = sum(code.startswith("U0") for code in codes)
    return any(code in LOW_VOLTAGE for code in codes) or lost >= 3


def rarity(code: str, counts: Mapping[str, int], cases: int) -> float:
    """How much a shared code says, in [0, 1]: 1 for one never seen, falling with its share of cases.

    `counts` are cases by code, out of `cases`. Common codes count a quarter.
    """
    seen = min(max(counts.get(code, 0), 0), max(cases, 0))
    weight = math.log((cases + 1.0) / (seen + 0.5) + 1.0) / math.log((cases + 1.0) / 0.5 + 1.0)
    return weight * (0.25 if is_common(code) else 1.0)
