"""From the engine's reasons to what is answered."""

from __future__ import annotations

from collections.abc import Iterable

from baylore_kb import values as kb
from baylore_service.wire import reasons as r

LEAST_FACTOR = 1e-9


def chance(value: float) -> float:
    """A chance without the last bits that would lift it over 1."""
    return min(1.0, max(0.0, value))


def moved(rows: Iterable[kb.Moved]) -> tuple[r.Moved, ...]:
    """What moved a cause, to three places; a factor is never shown as 0."""
    return tuple(r.Moved(each.by, max(float(f"{each.factor:.3g}"), LEAST_FACTOR)) for each in rows)


def then(rows: Iterable[kb.Then]) -> tuple[r.Then, ...]:
    """The first causes after an outcome."""
    return tuple(r.Then(each.cause, each.title, chance(each.probability)) for each in rows)


def dropped(rows: Iterable[kb.Dropped]) -> tuple[r.Dropped, ...]:
    """Leading causes that fell."""
    return tuple(
        r.Dropped(each.cause, each.title, chance(each.before), chance(each.after), each.by) for each in rows
    )


def conflicts(rows: Iterable[kb.Conflict]) -> tuple[r.Conflict, ...]:
    """Evidence that does not fit together."""
    return tuple(r.Conflict(each.kind, each.text, each.remedy, each.steps) for each in rows)


def ruled_out(rows: Iterable[kb.RuledOut]) -> tuple[r.RuledOut, ...]:
    """What was found good on this model before."""
    return tuple(
        r.RuledOut(each.test, each.title, each.means, each.times, each.minutes, each.causes) for each in rows
    )


def price(span: kb.PriceSpan | None) -> r.Price | None:
    """What such jobs came to, to the cent; None without enough cases."""
    if span is None:
        return None
    return r.Price(span.cases, round(span.low, 2), round(span.middle, 2), round(span.high, 2), span.currency)


def questions(rows: Iterable[kb.CallQuestion]) -> tuple[r.CallQuestion, ...]:
    """Questions for the phone with the answers to tap."""
    return tuple(
        r.CallQuestion(
            each.question,
            each.why,
            tuple(r.CallAnswer(one.title, one.symptom, one.condition) for one in each.answers),
        )
        for each in rows
    )
