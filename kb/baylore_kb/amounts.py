"""Numbers as they are spoken and measures in the shop's many spellings, each read as one."""

from __future__ import annotations

import math
import re

_SPELLINGS = {
    "v": "v volt volts vdc vac",
    "mv": "mv millivolt millivolts",
    "a": "a amp amps ampere amperes",
    "ma": "ma milliamp milliamps mils",
    "ohm": "ohm ohms ω",
    "kohm": "kohm kohms kω",
    "psi": "psi lbs pounds psig",
    "bar": "bar bars",
    "kpa": "kpa kilopascal kilopascals",
    "inhg": 'inhg "hg',
    "c": "c degc °c celsius degrees deg",
    "f": "f degf °f fahrenheit",
    "rpm": "rpm revs",
    "mm": "mm millimetre millimetres millimeter millimeters",
    "in": "inch inches",
    "km": "km kms kilometre kilometres kilometers",
    "mi": "mi mile miles",
    "kmh": "kmh km/h kph",
    "mph": "mph",
    "g": "g gram grams",
    "nm": "nm",
    "ftlb": "ft-lb ftlb lb-ft",
    "%": "% percent",
    "min": "min mins minute minutes",
    "s": "s sec secs second seconds",
    "h": "h hr hrs hour hours",
    "hz": "hz hertz",
    "gs": "g/s gps",
}
_UNITS = {spelling: unit for unit, words in _SPELLINGS.items() for spelling in words.split()}
# A lone letter after a blank is rather a word: "2 a day", "gear 3 s".
_ONLY_GLUED = frozenset("aghs")

# Exact by definition (SI brochure; NIST SP 811 for psi, inHg, inch, mile, ft-lb).
_TO_BASE = {
    "psi": (6.894757, "kpa"),
    "bar": (100.0, "kpa"),
    "kpa": (1.0, "kpa"),
    "inhg": (3.386389, "kpa"),
    "mv": (0.001, "v"),
    "v": (1.0, "v"),
    "ma": (0.001, "a"),
    "a": (1.0, "a"),
    "kohm": (1000.0, "ohm"),
    "ohm": (1.0, "ohm"),
    "in": (25.4, "mm"),
    "mm": (1.0, "mm"),
    "mi": (1.609344, "km"),
    "km": (1.0, "km"),
    "mph": (1.609344, "kmh"),
    "kmh": (1.0, "kmh"),
    "ftlb": (1.355818, "nm"),
    "nm": (1.0, "nm"),
}

_TIMES = frozenset(("s", "min", "h"))

_TO_NINETEEN = """zero one two three four five six seven eight nine ten eleven twelve thirteen fourteen
    fifteen sixteen seventeen eighteen nineteen"""
_TO_NINETY = "twenty thirty forty fifty sixty seventy eighty ninety"
_SMALL = _TO_NINETEEN.split()
_TENS = {word: 10 * n for n, word in enumerate(_TO_NINETY.split(), 2)}
_NUMBERS = {w: n for n, w in enumerate(_SMALL)} | _TENS
NUMBER_WORDS = frozenset(_NUMBERS)
_UNIT_WORDS = "|".join(_SMALL[1:10])
_SPOKEN = re.compile(
    rf"\b(?:(?P<tens>{'|'.join(_TENS)})[ -](?P<units>{_UNIT_WORDS})|(?P<one>{'|'.join(_NUMBERS)}))\b"
)
_POINT = re.compile(r"\b(\d{1,4}) point ((?:\d ?)*\d)\b")


def spoken_to_digits(text: str) -> str:
    """Folded `text` with number words to ninety-nine as digits: "twelve point one" is "12.1"."""
    digits = _SPOKEN.sub(_digits, text)
    return _POINT.sub(lambda found: f"{found[1]}.{found[2].replace(' ', '')}", digits)


def _digits(found: re.Match[str]) -> str:
    if found["one"]:
        return str(_NUMBERS[found["one"]])
    return str(_NUMBERS[found["tens"]] + _NUMBERS[found["units"]])


def unit_of(spelling: str, *, glued: bool) -> str | None:
    """The one spelling of a unit, None where the word is no unit; `glued` to its number or not."""
    unit = _UNITS.get(spelling)
    if unit is None or (not glued and spelling in _ONLY_GLUED):
        return None
    return unit


def plain_measure(value: float, unit: str) -> tuple[str, ...]:
    """The measure in its base unit to two figures, so that 68 psi, 4.7 bar and 470 kPa meet.

    A time gives its unit alone, since "after 15 min" and "after 20 min" tell of the same thing.
    A unit with only one form gives none.
    """
    if unit in _TIMES:
        return (f"~{unit}",)
    if unit == "f":
        return (f"~{round((value - 32) / 1.8)}c",)
    if unit == "c":
        return (f"~{round(value)}c",)
    if unit not in _TO_BASE:
        return ()
    factor, base = _TO_BASE[unit]
    return (f"~{_two_figures(value * factor)}{base}",)


def _two_figures(value: float) -> str:
    if value == 0 or not math.isfinite(value):
        return "0"
    places = 1 - math.floor(math.log10(abs(value)))
    return f"{round(value, places):g}"
