"""Judge one reading."""

from __future__ import annotations

from dataclasses import dataclass, replace

from baylore_kb.readings.compare import likened
from baylore_kb.readings.doubt import asked, meant_instead, odd_conditions, perhaps_meant, plausible, question
from baylore_kb.readings.expected import Range, Unknown, expected
from baylore_kb.readings.given import Given, given
from baylore_kb.readings.lookup import quantity_named
from baylore_kb.readings.measured import in_own_unit, shown_unit
from baylore_kb.readings.reason import reason, reason_unsaid, reason_whatever, typed
from baylore_kb.readings.span import Span, spanned
from baylore_kb.readings.verdict import shown_band, verdict
from baylore_kb.trade.model import Quantity, Trade
from baylore_kb.values import Band, Judged, Measure, Reading


@dataclass(frozen=True, slots=True)
class _Taken:
    """A reading with its quantity, its value in the quantity's unit and its conditions."""

    reading: Reading
    quantity: Quantity
    own: float
    known: Given

    @property
    def typed(self) -> Measure:
        """The value as typed."""
        return Measure(self.reading.value, self.reading.unit)

    @property
    def words(self) -> str:
        """The value in words, its own zero beside it where the typed one has another."""
        return typed(self.reading, self.quantity, self.own, known=self.known)

    @property
    def unit(self) -> str:
        """The unit to show limits in."""
        return shown_unit(self.reading, self.quantity, self.known)


def judge(reading: Reading, trade: Trade) -> Judged:
    """The verdict on `reading`, with the expected range in its own unit, the reason and the source.

    The verdict is a word of the quantity's ladder; "implausible" beyond its hard limits,
    asked about and never dropped; "unknown" when a condition is missing that cannot
    honestly be assumed (in `needs`) and the verdict hangs on it. A possible but odd value keeps
    its verdict and is asked about (`meant`). `good` is None where nothing can be said.
    Raises UnknownQuantity, UnknownUnit, UnitMismatch, NotAMeasure.
    """
    quantity = quantity_named(reading.quantity, trade)
    known = given(quantity, reading.conditions, trade)
    taken = _Taken(reading, quantity, in_own_unit(reading, quantity, known), known)
    limits = expected(quantity, known)
    if not plausible(quantity, taken.own):
        return _implausible(taken, limits)
    if isinstance(limits, Unknown):
        return _unsaid(taken, limits, trade)
    return _judged(taken, limits, trade)


def _implausible(taken: _Taken, limits: Range | Unknown) -> Judged:
    quantity = taken.quantity
    band = shown_band(quantity, limits, taken.unit) if isinstance(limits, Range) else None
    meant = meant_instead(quantity, taken.typed, limits)
    why = question(quantity, taken.typed, meant)
    return Judged(taken.reading, band, "implausible", why, quantity.source, meant=meant)


def _unsaid(taken: _Taken, limits: Unknown, trade: Trade) -> Judged:
    quantity = taken.quantity
    span = spanned(quantity, taken.own, taken.known, needs=limits.needs, trade=trade)
    widest = Range(span.low, span.high, (), frozenset()) if span else None
    band = shown_band(quantity, widest, taken.unit) if widest else None
    meant = _odd(taken, widest) if widest else ()
    why = _with_questions(_why_unsaid(taken, limits, span, band, trade=trade), taken, meant, trade)
    found = Judged(taken.reading, band, "unknown", why, quantity.source, needs=limits.needs, meant=meant)
    held = span.word if span else None
    return replace(found, verdict=held, good=_good(quantity, held)) if held else found


def _why_unsaid(taken: _Taken, limits: Unknown, span: Span | None, band: Band | None, *, trade: Trade) -> str:
    quantity, value = taken.quantity, taken.words
    if span is None or span.word is None:
        return reason_unsaid(quantity, limits, value=value, span=span, band=band, trade=trade)
    missing = [trade.conditions[name] for name in limits.needs]
    return reason_whatever(quantity, taken.own, value=value, known=taken.known, span=span, missing=missing)


def _judged(taken: _Taken, limits: Range, trade: Trade) -> Judged:
    quantity, own, known = taken.quantity, taken.own, taken.known
    word = verdict(quantity, own, limits)
    band = shown_band(quantity, limits, taken.unit)
    text = reason(taken.reading, quantity, own, limits=limits, band=band, known=known, word=word, trade=trade)
    meant = _odd(taken, limits)
    return Judged(
        taken.reading,
        band,
        word,
        _with_questions(text, taken, meant, trade),
        quantity.source,
        good=_good(quantity, word),
        meant=meant,
        likened=likened(quantity, own, known, limits=limits),
    )


def _good(quantity: Quantity, word: str) -> bool | None:
    return None if quantity.expected.kind == "maker" else word in quantity.good


def _odd(taken: _Taken, limits: Range) -> tuple[Measure, ...]:
    return perhaps_meant(taken.quantity, taken.typed, taken.own, limits=limits)


def _with_questions(text: str, taken: _Taken, meant: tuple[Measure, ...], trade: Trade) -> str:
    """The reason, then what to ask of an odd value or an odd condition."""
    ask = asked(meant)
    value = f"Or {ask}" if ask else ""
    return " ".join(filter(None, (text, value, odd_conditions(taken.quantity, taken.known, trade))))
