"""Question a value beyond the hard limits: a slipped decimal, a wrong unit, swapped leads."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from baylore_kb.readings.expected import Range, Unknown
from baylore_kb.trade.model import Quantity
from baylore_kb.units import canonical, convert, shown

SLIPS = (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0)


@dataclass(frozen=True, slots=True)
class _Guess:
    value: float
    unit: str
    own: float  # in the quantity's unit


def plausible(quantity: Quantity, value: float) -> bool:
    """Whether `value`, in the quantity's unit, lies inside its hard limits."""
    return quantity.hard_low <= value <= quantity.hard_high


def question(quantity: Quantity, typed: float, unit: str, limits: Range | Unknown) -> str:
    """What to ask about an implausible value, with the likeliest slip where one would explain it."""
    reach = (
        f"{shown(typed, unit)} is beyond what this can read "
        f"({shown(quantity.hard_low, quantity.unit)} to {shown(quantity.hard_high, quantity.unit)})"
    )
    guess = _best(quantity, typed, unit, limits)
    if guess is None:
        return f"{reach}: please check the number and the unit."
    return f"{reach}: did you mean {shown(guess.value, guess.unit)}?"


def _best(quantity: Quantity, typed: float, unit: str, limits: Range | Unknown) -> _Guess | None:
    fitting = [guess for guess in _guesses(quantity, typed, unit) if plausible(quantity, guess.own)]
    if isinstance(limits, Unknown):
        return next(iter(fitting), None)
    return min(fitting, key=lambda guess: _distance(guess.own, limits), default=None)


def _guesses(quantity: Quantity, typed: float, unit: str) -> Iterator[_Guess]:
    """Other units first, then the decimal point, then the sign: the order they are slipped in."""
    usual = canonical(unit, like=quantity.unit)
    for name in quantity.accepted_units:
        if name != usual:
            yield _Guess(typed, name, convert(typed, name, quantity.unit))
    for factor in (*SLIPS, -1.0):
        value = float(f"{typed * factor:.12g}")
        yield _Guess(value, unit, convert(value, unit, quantity.unit))


def _distance(value: float, limits: Range) -> float:
    """0 inside the expected range, else how far outside in widths of it; orders equal guesses by nearness."""
    if limits.low <= value <= limits.high:
        return 0.0
    width = max(limits.high - limits.low, 1e-12)
    return math.log1p(max(limits.low - value, value - limits.high) / width)
