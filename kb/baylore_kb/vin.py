"""Vehicle identification numbers: check them, and read model year and maker from them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from vininfo.dicts import WMI

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
# Pairs an eye takes for one another on a stamped plate; from memory.
_MISREAD = ("S5", "B8", "Z2", "G6", "D0", "L1", "U0", "T7", "A4", "38", "VY")
# Table VII: thirty codes from 1980, then the same again from 2010.
_YEARS = {code: 1980 + n for n, code in enumerate("ABCDEFGHJKLMNPRSTVWXY123456789")}
_CYCLE = 30
_MOST_MENDED = 2
_LEAVE_OUT = "or leave the VIN out"


@dataclass(frozen=True, slots=True)
class VinRead:
    """A VIN in upper case with what it tells.

    `year` is None where position 10 holds no year; `other_year` is the year of the other thirty-year cycle,
    None where it cannot be: position 7 parts the two for cars and light trucks alone, on a heavy truck or a
    motorcycle either may be right. `maker` is empty when unknown, `makers` are all that the number may belong
    to, the likeliest first; `check_ok` is whether the check digit is right, which only North American numbers
    must have: without it nothing shows that position 10 holds a year.
    """

    vin: str
    year: int | None
    maker: str
    check_ok: bool
    note: str = ""
    other_year: int | None = None
    makers: tuple[str, ...] = ()


def read_vin(text: str, *, field: str = "vehicle.vin", this_year: int | None = None) -> VinRead:
    """The VIN in `text`; blanks, dashes and lower case are fine. Years after `this_year` + 1 cannot be.

    Raises MalformedVin, naming `field`, when it has not 17 characters, holds I, O, Q or another
    sign, or is North American (first character 1 to 5) with a wrong check digit.
    Source: 49 CFR 565.15; ISO 3779.
    """
    vin = re.sub(r"[\s-]", "", fold(text)).upper()
    _check_characters(vin, field)
    expected = check_digit(vin)
    right = vin[8] == expected
    if not right and is_north_american(vin):
        raise MalformedVin(vin, _why_wrong(vin, expected), remedy=_likelier(vin), field=field)
    note = "" if right else f"the check digit would be {expected}; outside North America that proves nothing"
    year, other = _years(vin, this_year)
    names = makers(vin)
    return VinRead(vin, year, names[0] if names else "", right, note, other, names)


def _check_characters(vin: str, field: str) -> None:
    if len(vin) != LENGTH:
        raise MalformedVin(
            vin,
            f"it has {len(vin)} characters, not {LENGTH}",
            remedy=f"type all 17 {_LEAVE_OUT}",
            field=field,
        )
    for place, char in enumerate(vin, 1):
        if char in _COUNTS:
            continue
        instead = _LOOK_ALIKE.get(char)
        remedy = f"it is likely {instead}" if instead else "only 0-9 and A-Z without I, O, Q are used"
        raise MalformedVin(
            vin,
            f"character {place} is {char!r}, which no VIN holds",
            remedy=f"{remedy}; mend it {_LEAVE_OUT}",
            field=field,
        )


def _why_wrong(vin: str, expected: str) -> str:
    """The rule that a North American number breaks, by its place where one place breaks it.

    Source: 49 CFR 565.15 (c), (d)(1) and (d)(4).
    """
    if vin[8] not in "0123456789X":
        return f"character 9 is {vin[8]!r}, where only a check digit, 0-9 or X, can stand"
    if vin[9] not in _YEARS:
        return f"character 10 is {vin[9]!r}, which stands for no model year"
    letter = next((place for place in range(14, LENGTH + 1) if vin[place - 1].isalpha()), None)
    if letter is not None:
        return f"character {letter} is {vin[letter - 1]!r}, where only digits stand"
    return f"the check digit (9th) is {vin[8]!r}, the rest asks for {expected!r}"


def _likelier(vin: str) -> str:
    """What to do about a wrong check digit, naming one or two misread signs that would make it right."""
    mended = [f"character {place} may be {sign}" for place, sign in _mended(vin)]
    if 1 <= len(mended) <= _MOST_MENDED:
        return f"{' or '.join(mended)}, then it is right; compare with the plate {_LEAVE_OUT}"
    return f"read the plate again, two characters are likely swapped or misread, {_LEAVE_OUT}"


def _mended(vin: str) -> Iterator[tuple[int, str]]:
    """Places with the sign a misread one may be, where that makes the whole number right."""
    other = {pair[at]: pair[1 - at] for pair in _MISREAD for at in (0, 1)}
    for at, char in enumerate(vin):
        sign = other.get(char)
        if sign is None:
            continue
        tried = f"{vin[:at]}{sign}{vin[at + 1 :]}"
        if tried[8] == check_digit(tried) and tried[9] in _YEARS and tried[13:].isdigit():
            yield at + 1, sign


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


def _years(vin: str, this_year: int | None) -> tuple[int | None, int | None]:
    """The year and the other that position 10 stands for; one that is still to come cannot be."""
    year = model_year(vin)
    if year is None:
        return None, None
    other = year - _CYCLE if year >= 1980 + _CYCLE else year + _CYCLE
    if this_year is not None and year > this_year + 1:
        return other, None
    return year, None if this_year is not None and other > this_year + 1 else other


def makers(vin: str) -> tuple[str, ...]:
    """The makers whose numbers begin so: by three characters, then by two; () when none is listed."""
    names = (_title(WMI.get(vin[:size])) for size in (3, 2))
    return tuple(dict.fromkeys(name for name in names if name))


def _title(listed: object) -> str:
    return str(getattr(listed, "manufacturer", listed)) if listed is not None else ""


def maker(vin: str) -> str:
    """The likeliest of `makers`, empty when the list has none."""
    return next(iter(makers(vin)), "")
