"""What an answer says besides causes and tests: before, money and the phone call."""

from __future__ import annotations

from dataclasses import replace

from tests.kb.invented_shop import empty_shop, shop_of

from baylore_kb import Complaint, advise
from baylore_kb.values import Case, Cost, Labour, Terms, TestDone, Vehicle

LINNET = Vehicle(2011, "Tarrow", "Linnet")
ASKED = Complaint("starter dead, just one click", vehicle=LINNET)
TERMS = Terms(rate_per_hour=60.0, currency="EUR")


def job(number, parts):
    tests = (TestDone("crank_drop_neg", "ok", minutes=4), TestDone("start_relay", "ok", minutes=5))
    return Case(
        f"c{number}",
        Complaint("one click and no crank", vehicle=replace(LINNET, year=2010 + number % 3), tests=tests),
        "closed",
        cause="starting.starter.worn",
        verified=True,
        labour=Labour(repair_min=30.0, rate_per_hour=50.0),
        cost=Cost(parts=parts, labour=25.0, currency="EUR"),
    )


JOBS = [job(number, parts) for number, parts in enumerate((60, 230, 110, 90, 140))]


def test_an_empty_shop_has_no_before_and_no_price_but_questions():
    answer = advise(ASKED, empty_shop())
    assert (answer.ruled_out, answer.price) == ((), None)
    assert answer.questions


def test_the_shops_jobs_tell_what_was_ruled_out_and_what_it_cost():
    answer = advise(ASKED, shop_of(JOBS), terms=TERMS)
    cable = next(row for row in answer.ruled_out if row.test == "crank_drop_neg")
    assert (cable.times, cable.minutes) == (5, 4.0)
    price = answer.price
    assert (price.cases, price.low, price.middle, price.high, price.currency) == (5, 90, 140, 260, "EUR")


def test_a_case_left_out_counts_neither_before_nor_in_the_price():
    answer = advise(ASKED, shop_of(JOBS), terms=TERMS, leave_out=frozenset({"c1"}))
    assert answer.price.cases == 4 and answer.price.high == 170
    assert all(row.times <= 4 for row in answer.ruled_out)


def test_the_number_of_cases_shown_changes_neither():
    few, many = (advise(ASKED, shop_of(JOBS), terms=TERMS, limit=limit) for limit in (1, 10))
    assert (few.price, few.ruled_out) == (many.price, many.ruled_out)


def test_a_tapped_condition_changes_the_answer():
    plain = advise(Complaint("won't start sometimes"), empty_shop())
    hot = advise(Complaint("won't start sometimes", shows_when=("hot",)), empty_shop())
    sensor = "ignition.ckp.no_signal"
    before, after = (
        next(row.probability for row in each.causes if row.cause == sensor) for each in (plain, hot)
    )
    assert after > before
