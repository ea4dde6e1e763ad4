"""Every listed quantity: an ordinary value is judged good, an absurd one is questioned, a source is named."""

import pytest

from baylore_kb.readings import judge
from baylore_kb.trade import load
from baylore_kb.trade.rules.quantities import ORDINARY
from baylore_kb.values import Reading

TRADE = load()
GAS = {"refrigerant": "R134a", "minutes_off": 60}


def said(quantity):
    ordinary = {name: value for name, value in ORDINARY.items() if name in quantity.conditions}
    return ordinary | {name: value for name, value in GAS.items() if name in quantity.conditions}


def at(quantity, value):
    return judge(Reading(quantity.id, value, quantity.unit, conditions=said(quantity)), TRADE)


def ordinary_value(quantity):
    """The middle of the expected range, or just inside the side that is minded; the ladder decides apart."""
    band = at(quantity, (quantity.hard_low + quantity.hard_high) / 2).expected
    low = band.low if band.low is not None else min(quantity.hard_low, band.high or 0.0)
    high = band.high if band.high is not None else low * 1.2 if low else 1.0
    return max(low + 0.5 * (high - low), quantity.hard_low)


@pytest.mark.parametrize("name", sorted(TRADE.quantities))
def test_an_ordinary_value_is_good(name):
    quantity = TRADE.quantities[name]
    found = at(quantity, ordinary_value(quantity))
    maker = quantity.expected.kind == "maker"
    assert found.good is (None if maker else True), found.why
    assert found.why and found.source and found.needs == ()


@pytest.mark.parametrize("name", sorted(TRADE.quantities))
def test_an_absurd_value_is_questioned_and_kept(name):
    quantity = TRADE.quantities[name]
    absurd = quantity.hard_high * 11 + 1
    found = at(quantity, absurd)
    assert (found.verdict, found.good, found.reading.value) == ("implausible", None, absurd)
    assert "beyond what this can read" in found.why


@pytest.mark.parametrize("name", sorted(TRADE.quantities))
def test_every_condition_is_one_a_member_can_be_asked_for(name):
    for condition in TRADE.quantities[name].conditions:
        assert TRADE.conditions[condition].title


def test_what_a_formula_uses_has_usual_limits_to_reckon_with():
    used = {name for quantity in TRADE.quantities.values() for name in quantity.expected.uses}
    worked_out = {"load_a", "drop_limit_v", "low_ohm", "high_ohm"}
    unsaid = used - worked_out - {name for name, each in TRADE.conditions.items() if each.default is not None}
    assert [name for name in sorted(unsaid) if not TRADE.conditions[name].usual] == []
