"""Units as shops type them, converted by pint; offset temperatures are handled right."""

from __future__ import annotations

import re
import tokenize
from collections.abc import Iterable
from functools import cache, lru_cache
from itertools import product

import pint

from baylore_kb.errors import NotAMeasure, UnitMismatch, UnknownUnit
from baylore_kb.units.spellings import GAUGE, SPELLINGS, SYMBOLS, folded
from baylore_kb.values import Measure

_PLAIN_NAME = re.compile(r"[A-Za-z_]+(?:[/*][A-Za-z_]+)*")
_MEASURE = re.compile(r"\s*([-+]?(?:\d[\d,]*\.?\d*|\.\d+))\s*((?![\d.,]).*?)\s*")
_THOUSANDS = re.compile(r"[-+]?\d{1,3}(?:,\d{3})+(?:\.\d*)?")
# A pressure over a vacuum, which never becomes one over the air without knowing the air.
_ABSOLUTE = "absolute_"
# What anybody types is kept, but not all of it for good.
_KEPT = 4096
# pint's parser lets these through for text that is no unit at all.
_PINT_REFUSES = (pint.PintError, ValueError, TypeError, AttributeError, SyntaxError, tokenize.TokenError)


@cache
def _registry() -> pint.UnitRegistry[float]:
    registry: pint.UnitRegistry[float] = pint.UnitRegistry()
    for name in ("kilopascal", "psi", "bar"):
        registry.define(f"{_ABSOLUTE}{name} = {name}")
    return registry


@lru_cache(maxsize=_KEPT)
def _dimension(unit: str) -> str | None:
    """The dimension of a pint unit as text; None when pint does not know it."""
    try:
        powers = dict(_registry().Unit(unit).dimensionality)
        return " ".join(f"{name}^{power}" for name, power in sorted(powers.items()))
    except _PINT_REFUSES:
        return None


@lru_cache(maxsize=_KEPT)
def _candidates(text: str) -> tuple[str, ...]:
    """Every pint unit that `text` may stand for, the usual one first; empty when unknown."""
    named = SPELLINGS.get(text.strip()) or SPELLINGS.get(folded(text))
    if named:
        return named
    bare = text.strip()
    if _PLAIN_NAME.fullmatch(bare) and _dimension(bare) is not None:
        return (bare,)
    return _quotient(text)


def _quotient(text: str) -> tuple[str, ...]:
    over, slash, under = text.partition("/")
    if not slash:
        return ()
    return tuple(f"{a}/{b}" for a in _candidates(over)[:1] for b in _candidates(under)[:1])


def canonical(unit: str, *, like: str | None = None) -> str:
    """The pint name of `unit` as typed; `like` picks between meanings ("C" beside a difference).

    Raises UnknownUnit.
    """
    found = _candidates(unit)
    if not found:
        raise UnknownUnit(unit, accepted=(like,) if like else ())
    fitting = (name for name in found if like and _alike(name, like))
    return next(fitting, found[0])


def _is_difference(unit: str) -> bool:
    return unit.startswith("delta_")


def is_absolute(unit: str) -> bool:
    """Whether a pressure unit, as typed, says that it counts from a vacuum: "psia", "kPa abs"."""
    found = _candidates(unit)
    return bool(found) and found[0].startswith(_ABSOLUTE)


def is_gauge(unit: str) -> bool:
    """Whether a pressure unit, as typed, says that it counts from the air outside: "psig", "barg"."""
    return folded(unit) in GAUGE


def known(unit: str) -> bool:
    """Whether `unit`, as typed, is a unit."""
    return bool(_candidates(unit))


def same_kind(unit: str, other: str) -> bool:
    """Whether both units are known and measure the same dimension."""
    dimensions = [_dimension(found[0]) for found in (_candidates(unit), _candidates(other)) if found]
    return len(dimensions) == 2 and dimensions[0] == dimensions[1] is not None


@lru_cache(maxsize=_KEPT)
def _line(unit: str, to: str) -> tuple[float, float]:
    """Slope and offset of the straight line from `unit` to `to`."""
    quantity = _registry().Quantity
    zero = float(quantity(0.0, unit).to(to).magnitude)
    return float(quantity(1.0, unit).to(to).magnitude) - zero, zero


def convert(value: float, unit: str, to: str, *, accepted: Iterable[str] = (), field: str = "unit") -> float:
    """`value` in `unit` (as typed) expressed in `to`; any finite value.

    Raises UnknownUnit for a unit nobody knows and UnitMismatch when the dimensions
    differ; both name `field` and the `accepted` units, or `to` where none are given.
    """
    shown = tuple(symbol(name) for name in accepted) or (symbol(to),)
    if not _candidates(unit):
        raise UnknownUnit(unit, accepted=shown, field=field)
    pair = _matching(unit, to)
    if pair is None:
        raise UnitMismatch(value, unit, accepted=shown, field=field)
    if pair[0] == pair[1]:
        return float(value)
    slope, offset = _line(*pair)
    # Twelve figures: beyond any gauge, and 68 °F stays 20 °C.
    return float(f"{slope * value + offset:.12g}")


@lru_cache(maxsize=_KEPT)
def _matching(unit: str, to: str) -> tuple[str, str] | None:
    """The first meanings of both spellings that measure the same thing; a pint name as `to` means itself."""
    meanings = product((to,) if to in SYMBOLS else _candidates(to), _candidates(unit))
    return next(((source, target) for target, source in meanings if _alike(source, target)), None)


def _alike(one: str, other: str) -> bool:
    # What shares a dimension may still differ in its zero: differences, absolute pressures.
    zeros = (_is_difference, is_absolute)
    return _dimension(one) == _dimension(other) and all(zero(one) == zero(other) for zero in zeros)


def width(value: float, unit: str, to: str) -> float:
    """A difference `value` in `unit` expressed in `to`: offsets of temperatures fall out.

    Raises UnknownUnit and UnitMismatch like `convert`.
    """
    return convert(value, unit, to) - convert(0.0, unit, to)


def parse_measure(text: str) -> Measure:
    """A number and its unit as typed: "12.1 volts", "141,000 km", "12,1 V".

    The unit is kept as written. Raises NotAMeasure without a number or unit, UnknownUnit.
    """
    match = _MEASURE.fullmatch(text.replace("\N{MINUS SIGN}", "-"))
    if match is None or not match[2]:
        raise NotAMeasure(text)
    if not _candidates(match[2]):
        raise UnknownUnit(match[2])
    return Measure(_number(match[1], text), match[2])


def _number(digits: str, text: str) -> float:
    plain = digits.replace(",", "") if _THOUSANDS.fullmatch(digits) else digits.replace(",", ".")
    try:
        return float(plain)
    except ValueError as error:
        raise NotAMeasure(text) from error


def symbol(unit: str) -> str:
    """The short way to write a unit: "V" for "volts", "kPa" for "kilopascal"; unknown ones as typed."""
    found = _candidates(unit)
    return SYMBOLS.get(found[0], unit) if found else unit


def shown(value: float, unit: str) -> str:
    """`value` to four figures with the unit's symbol, such as "12.1 V"; whole thousands stay whole."""
    digits = f"{value:.0f}" if abs(value) >= 1000 else f"{value:.4g}"
    mark = symbol(unit)
    return f"{digits} {mark}" if mark else digits
