"""Which outcome of a test a reading decides."""

from __future__ import annotations

from collections.abc import Mapping

from baylore_kb.errors import BadFormula
from baylore_kb.expressions import value
from baylore_kb.readings.doubt import plausible
from baylore_kb.readings.given import given
from baylore_kb.readings.lookup import quantity_named
from baylore_kb.readings.measured import in_own_unit
from baylore_kb.trade.model import OutcomeRule, Test, Trade
from baylore_kb.values import Judged, Reading


def outcome_of(reading: Reading | Judged, test: Test, trade: Trade) -> str | None:
    """The id of the first outcome of `test` whose rule the reading meets.

    None when no rule speaks of this quantity, none is met, a condition the rule needs is
    missing, or the value is implausible: then the technician picks.
    Raises UnknownQuantity, UnknownUnit, UnitMismatch, NotAMeasure.
    """
    plain = reading.reading if isinstance(reading, Judged) else reading
    quantity = quantity_named(plain.quantity, trade)
    known = given(quantity, plain.conditions, trade)
    own = in_own_unit(plain, quantity, known)
    if not plausible(quantity, own):
        return None
    rules = ((o.id, o.rule) for o in test.outcomes if o.rule and o.rule.quantity == quantity.id)
    return next((outcome for outcome, rule in rules if _met(rule, own, known.values)), None)


def _met(rule: OutcomeRule, own: float, known: Mapping[str, float | str]) -> bool:
    try:
        return (
            (rule.min is None or own >= value(rule.min, known))
            and (rule.max is None or own <= value(rule.max, known))
            and (rule.above is None or own > value(rule.above, known))
            and (rule.below is None or own < value(rule.below, known))
        )
    except BadFormula:  # a condition the rule needs was not given
        return False
