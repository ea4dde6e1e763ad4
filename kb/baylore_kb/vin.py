"""Vehicle identification numbers: check them, and read model year and maker from them."""

from __future__ import annotations

import re
from dataclasses import dataclass

from vininfo import Vin as _Decoded

from baylore_kb.errors import MalformedVin
from baylore_kb.tokens import fold

LENGTH = 17
# 49 CFR 565.15 (c)(4), tables III and IV: what each letter counts and each place weighs.
_COUNTS = dict(
    zip(
        "0123456789ABCDEFGHJKLMNPRSTUVWXYZ",
        (*range(10), *range(1, 9), *range(1, 6), 7, 9, *range(2, 10)),
        strict=True,
    )
)
_WEIGHTS = (8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2)
_LOOK_ALIKE = {"I": "1", "O": "0", "Q": "0"}
# Table VII: thirty codes from 1980, then the same again from 2010.
_YEARS = {code: 1980 + n for n, code in enumerate("ABCDEFGHJKLMNPRSTVWXY123456789")}
_CYCLE = 30


@dataclass(frozen=True, slots=True)
class VinRead:
    """A VIN in upper case with what it tells.

    `year` is None where position 10 holds no year; `maker` is empty when unknown;
    `check_ok` is whether the check digit is right, which only North American numbers must have.
    """

    vin: str
    year: int | None
    maker: str
    check_ok: bool
    note: str = ""


def read_vin(text: str, *, field: str = "vehicle.vin") -> VinRead:
    """The VIN in `text`; blanks, dashes and lower case are fine.

    Raises MalformedVin, naming `field`, when it has not 17 characters, holds I, O, Q or another
    sign, or is North American (first character 1 to 5) with a wrong check digit.
    Source: 49 CFR 565.15; ISO 3779.
    """
    vin = re.sub(r"[\s-]", "", fold(text)).upper()
    _check_characters(vin, field)
    expected = check_digit(vin)
    right = vin[8] == expected
    if not right and is_north_american(vin):
        raise MalformedVin(
            vin,
            f"the check digit (9th) is {vin[8]!r}, the rest asks for {expected!r}",
            remedy="read the plate again, two characters are likely swapped or misread",
            field=field,
        )
    note = "" if right else f"the check digit would be {expected}; outside North America that proves nothing"
    return VinRead(vin, model_year(vin), maker(vin), right, note)


def _check_characters(vin: str, field: str) -> None:
    if len(vin) != LENGTH:
        raise MalformedVin(
            vin,
            f"it has {len(vin)} characters, not {LENGTH}",
            remedy="type all 17 or leave it empty",
            field=field,
        )
    for place, char in enumerate(vin, 1):
        if char in _COUNTS:
            continue
        instead = _LOOK_ALIKE.get(char)
        remedy = f"it is likely {instead}" if instead else "only 0-9 and A-Z without I, O, Q are used"
        raise MalformedVin(
            vin, f"character {place} is {char!r}, which no VIN holds", remedy=remedy, field=field
        )


def check_digit(vin: str) -> str:
    """The check digit that 17 valid characters ask for, "0" to "9" or "X"; the 9th itself is not read.

    Source: 49 CFR 565.15 (c); its example 1G4AH59H45G118341 gives "4".
    """
    remainder = sum(_COUNTS[char] * weight for char, weight in zip(vin, _WEIGHTS, strict=True)) % 11
    return "X" if remainder == 10 else str(remainder)


def is_north_american(vin: str) -> bool:
    """Whether the first character is 1 to 5, where the check digit is compulsory."""
    return vin[0] in "12345"


def model_year(vin: str) -> int | None:
    """The model year by position 10, from 2010 on when position 7 is a letter; None where it is no year code.

    Source: 49 CFR 565.15 (d)(1). Position 7 decides only for cars and light trucks.
    """
    year = _YEARS.get(vin[9])
    if year is None:
        return None
    return year + _CYCLE if vin[6].isalpha() else year


def maker(vin: str) -> str:
    """The maker's name for the first three characters, empty when the list does not have them."""
    name = str(_Decoded(vin).manufacturer)
    return "" if name.startswith("Unsupported") else name
