"""What holds while a condition is unsaid: the widest range, and the verdict by that condition."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import groupby, product

from baylore_kb.readings.expected import Range, expected
from baylore_kb.readings.given import Given, label
from baylore_kb.readings.verdict import verdict
from baylore_kb.trade.model import Condition, Quantity, Trade
from baylore_kb.units import shown

Said = Mapping[str, float | str]

_STEPS_ALONE, _STEPS_TOGETHER = 45, 9


@dataclass(frozen=True, slots=True)
class Stretch:
    """A run of one condition's values, first to last, over which one verdict holds."""

    word: str
    first: float | str
    last: float | str


@dataclass(frozen=True, slots=True)
class Span:
    """The widest range over the usual values of what is missing, in the quantity's unit.

    `word` is the verdict that holds for every one of them, else None; `stretches` follow the one
    missing condition, empty where several are missing. `over` says the usual values in words.
    """

    low: float
    high: float
    word: str | None
    stretches: tuple[Stretch, ...]
    over: str


def spanned(
    quantity: Quantity, own: float, known: Given, *, needs: Sequence[str], trade: Trade
) -> Span | None:
    """The span of `quantity` while `needs` are unsaid, for a value `own` in its unit.

    None when the usual values of one of them are not known, when a word was said that nobody
    knows, or when even they give no range.
    """
    missing = [trade.conditions[name] for name in needs if name in trade.conditions]
    if not missing or any(_no_help(condition, known) for condition in missing):
        return None
    found = _ranges(_Unsaid(quantity, known, missing))
    if not found:
        return None
    verdicts = [(values, verdict(quantity, own, limits)) for values, limits in found]
    words = {word for _, word in verdicts}
    return Span(
        low=min(limits.low for _, limits in found),
        high=max(limits.high for _, limits in found),
        word=words.pop() if len(words) == 1 else None,
        stretches=_stretches(verdicts, missing),
        over="; ".join(_usual(condition) for condition in missing),
    )


def _no_help(condition: Condition, known: Given) -> bool:
    said_word = isinstance(known.values.get(condition.id), str)
    return not condition.usual or said_word


class _Unsaid:
    """What a span rests on, as a key: the very quantity, what is said and what is missing."""

    def __init__(self, quantity: Quantity, known: Given, missing: Sequence[Condition]) -> None:
        self.quantity, self.known, self.missing = quantity, known, missing
        self._key = (id(quantity), frozenset(known.values.items()), *(each.id for each in missing))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Unsaid) and other._key == self._key

    def __hash__(self) -> int:
        return hash(self._key)


@lru_cache(maxsize=256)
def _ranges(unsaid: _Unsaid) -> tuple[tuple[Said, Range], ...]:
    """The range at each combination of usual values; empty where one of them gives none.

    Kept, for the same condition is unsaid in many cases of a shop.
    """
    found = tuple(_tried(unsaid.quantity, unsaid.known, unsaid.missing))
    return () if any(limits is None for _, limits in found) else tuple(_sure(found))


def _sure(found: Sequence[tuple[Said, Range | None]]) -> Iterator[tuple[Said, Range]]:
    return ((values, limits) for values, limits in found if limits is not None)


def _tried(
    quantity: Quantity, known: Given, missing: Sequence[Condition]
) -> Iterator[tuple[Said, Range | None]]:
    steps = _STEPS_ALONE if len(missing) == 1 else _STEPS_TOGETHER
    for values in product(*(_points(condition, steps) for condition in missing)):
        unsaid = {condition.id: value for condition, value in zip(missing, values, strict=True)}
        limits = expected(quantity, replace(known, values={**known.values, **unsaid}))
        yield unsaid, limits if isinstance(limits, Range) else None


def _points(condition: Condition, steps: int) -> tuple[float | str, ...]:
    if condition.unit is None:
        return tuple(str(word).casefold() for word in condition.usual)
    low, high = (float(bound) for bound in condition.usual)
    return tuple(low + (high - low) * step / (steps - 1) for step in range(steps))


def _stretches(verdicts: Sequence[tuple[Said, str]], missing: Sequence[Condition]) -> tuple[Stretch, ...]:
    if len(missing) != 1:
        return ()
    name = missing[0].id
    runs = (list(run) for _, run in groupby(verdicts, key=lambda pair: pair[1]))
    return tuple(Stretch(run[0][1], run[0][0][name], run[-1][0][name]) for run in runs)


def _usual(condition: Condition) -> str:
    if condition.unit is None:
        return f"{label(condition)} {' or '.join(str(word) for word in condition.usual)}"
    low, high = (float(bound) for bound in condition.usual)
    return f"{label(condition)} {low:g} to {shown(high, condition.unit)}"


def stretches_told(span: Span, condition: Condition) -> str:
    """The verdict by the missing condition: "low at 20 to 45 °C, ok at 11 to 19 °C"; may be empty."""
    return ", ".join(f"{each.word.replace('_', ' ')} at {_reach(each, condition)}" for each in span.stretches)


def _reach(stretch: Stretch, condition: Condition) -> str:
    first, last = stretch.first, stretch.last
    if isinstance(first, str) or isinstance(last, str):
        return str(first) if first == last else f"{first} to {last}"
    return (
        shown(round(first), condition.unit or "")
        if round(first) == round(last)
        else _from_to(first, last, condition)
    )


def _from_to(first: float, last: float, condition: Condition) -> str:
    whole = abs(last - first) >= 5.0
    low, high = (round(first), round(last)) if whole else (float(f"{first:.3g}"), float(f"{last:.3g}"))
    return f"{low:g} to {shown(high, condition.unit or '')}"
