"""Question a value that looks slipped: the decimal point, the unit, swapped leads."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from baylore_kb.readings.expected import Range, Unknown
from baylore_kb.readings.given import Given, label
from baylore_kb.trade.model import Condition, Quantity, Trade
from baylore_kb.units import canonical, convert, is_absolute, shown
from baylore_kb.values import Measure

SLIPS = (0.1, 10.0, 0.01, 100.0, 0.001, 1000.0)
MOST = 2
# Far outside: this many times the nearest bound, or this many widths of the range beyond it.
_FAR_RATIO, _FAR_WIDTHS = 2.5, 1.5
# Only where no second decimal place fits too does a shifted point say anything.
_NARROW = math.sqrt(10.0)
_OTHER_UNITS = {
    "degC": ("degF",),
    "meter": ("foot",),
    "kilopascal": ("psi", "bar"),
    "kilometer/hour": ("mile/hour",),
    "liter": ("cubic_centimeter",),
}


@dataclass(frozen=True, slots=True)
class _Guess:
    typed: Measure
    own: float  # in the quantity's unit


def plausible(quantity: Quantity, value: float) -> bool:
    """Whether `value`, in the quantity's unit, lies inside its hard limits."""
    return quantity.hard_low <= value <= quantity.hard_high


def meant_instead(quantity: Quantity, typed: Measure, limits: Range | Unknown) -> tuple[Measure, ...]:
    """What an implausible value was likely meant to be, best first, two at most; empty for no idea."""
    fitting = [guess for guess in _guesses(quantity, typed) if plausible(quantity, guess.own)]
    if isinstance(limits, Unknown):
        return tuple(guess.typed for guess in fitting[:1])
    fitting.sort(key=lambda guess: _distance(guess.own, limits))
    inside = [guess for guess in fitting if _distance(guess.own, limits) == 0.0]
    return tuple(guess.typed for guess in _distinct(inside or fitting[:1]))


def perhaps_meant(quantity: Quantity, typed: Measure, own: float, *, limits: Range) -> tuple[Measure, ...]:
    """What a possible but odd value may have been meant to be; empty when it is not odd.

    Asked only where the value lies far outside the expected range and another unit of the
    quantity, or for a narrow range the decimal point, puts it inside.
    """
    if not _far(own, limits):
        return ()
    narrow = _minded(quantity) and limits.low > 0.0 and limits.high <= _NARROW * limits.low
    # Down to nought a thousandth always fits, so there another unit says something of temperatures only.
    if limits.low <= 0.0 and quantity.unit != "degC":
        return ()
    guesses = _guesses(quantity, typed, slips=(0.1, 10.0) if narrow else ())
    inside = (guess for guess in guesses if limits.low <= guess.own <= limits.high)
    return tuple(guess.typed for guess in _distinct(inside))


def _minded(quantity: Quantity) -> bool:
    return {"low", "high"} <= set(quantity.edges)


def _far(value: float, limits: Range) -> bool:
    beyond = max(limits.low - value, value - limits.high)
    if beyond <= 0.0:
        return False
    if limits.low > 0.0 and value > 0.0:
        return value > _FAR_RATIO * limits.high or value * _FAR_RATIO < limits.low
    return beyond > _FAR_WIDTHS * (limits.high - limits.low)


def _distinct(guesses: Iterable[_Guess]) -> list[_Guess]:
    """The first of those that come to the same value, two at most."""
    kept: dict[str, _Guess] = {}
    for guess in guesses:
        kept.setdefault(f"{guess.own:.6g}", guess)
    return list(kept.values())[:MOST]


def _guesses(quantity: Quantity, typed: Measure, slips: Iterable[float] = (*SLIPS, -1.0)) -> Iterator[_Guess]:
    """Other units first, then the decimal point, then the sign: the order they are slipped in."""
    if is_absolute(typed.unit):
        return
    usual = canonical(typed.unit, like=quantity.unit)
    for name in quantity.accepted_units:
        if name != usual:
            yield _Guess(Measure(typed.value, name), convert(typed.value, name, quantity.unit))
    for factor in slips:
        value = float(f"{typed.value * factor:.12g}")
        yield _Guess(Measure(value, typed.unit), convert(value, typed.unit, quantity.unit))


def _distance(value: float, limits: Range) -> float:
    """0 inside the expected range, else how far outside in widths of it; orders equal guesses by nearness."""
    if limits.low <= value <= limits.high:
        return 0.0
    width = max(limits.high - limits.low, 1e-12)
    return math.log1p(max(limits.low - value, value - limits.high) / width)


def question(quantity: Quantity, typed: Measure, meant: tuple[Measure, ...]) -> str:
    """What to ask about an implausible value, with the likeliest slips where some would explain it."""
    limits = f"{shown(quantity.hard_low, quantity.unit)} to {shown(quantity.hard_high, quantity.unit)}"
    reach = f"{shown(typed.value, typed.unit)} is beyond what this can read ({limits})"
    return f"{reach}: {asked(meant) or 'please check the number and the unit.'}"


def asked(meant: tuple[Measure, ...]) -> str:
    """ "did you mean 12.6 V or 126 mV?"; empty for nothing meant."""
    values = " or ".join(shown(each.value, each.unit) for each in meant)
    return f"did you mean {values}?" if meant else ""


def odd_conditions(quantity: Quantity, known: Given, trade: Trade) -> str:
    """What to ask of conditions that only another unit makes ordinary; empty when all are ordinary."""
    said = [trade.conditions[name] for name in quantity.conditions if name not in known.assumed]
    return " ".join(filter(None, (_odd(each, known.values.get(each.id)) for each in said)))


def _odd(condition: Condition, value: float | str | None) -> str:
    if not isinstance(value, float) or len(condition.usual) != 2 or condition.unit is None:
        return ""
    low, high = (float(bound) for bound in condition.usual)
    if low <= value <= high:
        return ""
    fits = (
        unit
        for unit in _OTHER_UNITS.get(condition.unit, ())
        if low <= convert(value, unit, condition.unit) <= high
    )
    unit = next(fits, None)
    if unit is None:
        return ""
    return f"Is the {label(condition)} {shown(value, condition.unit)}, or {shown(value, unit)}?"
