"""Listed part prices are in USD: a shop with another currency does not mix them with its own money."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.plan.mends import listed_price, part_minutes
from baylore_kb.tally import Sum, Tally
from baylore_kb.trade import load
from baylore_kb.values import Terms

CABLE = load().causes["starting.ground_cable.high_resistance"]
USD, YEN = Terms(95.0, "USD"), Terms(9500.0, "JPY")
money = st.floats(0.01, 1e5)


def test_a_listed_price_weighs_the_same_in_a_currency_of_smaller_units():
    priced = replace(CABLE, part_price=38.0)
    assert part_minutes(priced, Tally(), terms=YEN) == pytest.approx(24.0)
    assert part_minutes(priced, Tally(), terms=USD) == pytest.approx(24.0)


def test_the_shops_own_prices_are_in_its_own_money():
    priced, seen = replace(CABLE, part_price=38.0), Tally(prices={CABLE.component: Sum(2.0, 2 * 9500.0)})
    assert part_minutes(priced, seen, terms=YEN) == pytest.approx((24.0 + 60.0) / 2)


def test_a_shop_in_usd_takes_the_listed_price_whatever_its_rate():
    assert listed_price(38.0, Terms(150.0, "USD")) == 38.0


@given(money, money)
def test_in_another_currency_only_the_minutes_count(price, rate):
    minutes = listed_price(price, Terms(rate, "EUR")) * 60.0 / rate
    assert minutes == pytest.approx(price * 60.0 / 95.0)
