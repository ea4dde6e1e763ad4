"""Parts by source: what cured, what failed, and the cheapest way to a working car."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.parts import best_source, part_outcomes
from baylore_kb.values import Case, Complaint, Labour, PartTried, Terms

SENSOR, CAUSE = "abs_stab.sensor", "abs_stab.sensor.no_signal"
TERMS = Terms(rate_per_hour=60.0, currency="USD", comeback_cost_min=60.0)


def case(number, *tried, cause=CAUSE, state="closed", returned_as=()):
    complaint = Complaint("abs lamp", parts=tried)
    labour = Labour(repair_min=30.0)
    return Case(f"c{number}", complaint, state=state, cause=cause, labour=labour, returned_as=returned_as)


def fitted(source, result, *, price=None, component=SENSOR):
    return PartTried(component, source, result, price)


def shop(*results):
    return [case(n, fitted(source, result, price=price)) for n, (source, result, price) in enumerate(results)]


COPIES = [("aftermarket", "cured", 24.0)] * 3 + [("aftermarket", "partly", 24.0)] * 4
MAKERS = [("maker", "cured", 118.0)] * 9


def only(cases, **options):
    (parts,) = part_outcomes(cases, terms=TERMS, **options)
    return parts


def test_each_source_is_counted_and_said_in_a_sentence():
    parts = only(shop(*COPIES, *MAKERS))
    by_source = {source.source: source for source in parts.sources}
    assert (by_source["aftermarket"].cured, by_source["aftermarket"].tried) == (3, 7)
    assert (by_source["maker"].cured, by_source["maker"].tried) == (9, 9)
    assert parts.says.startswith("Maker 118 USD: cured 9 of 9. Copy 24 USD: cured 3 of 7.")


def test_a_cheap_part_that_seldom_cures_can_be_the_dear_way():
    costly = Terms(rate_per_hour=95.0, comeback_cost_min=180.0)
    (parts,) = part_outcomes(shop(*COPIES, *MAKERS), terms=costly)
    assert parts.cheapest_way == "maker"
    assert best_source(shop(*COPIES, *MAKERS), SENSOR, terms=costly).source == "maker"


def test_expected_cost_is_price_and_labour_and_a_comeback_for_each_failure():
    parts = only(shop(*MAKERS))
    (maker,) = parts.sources
    fail = 1 - maker.success
    assert maker.expected_cost == pytest.approx((118 + 30 + fail * 60) / (1 - fail))


def test_a_cured_part_whose_car_came_back_with_it_failed_later():
    first = case(1, fitted("aftermarket", "cured"), returned_as=("c2",))
    again = case(2, fitted("maker", "cured"))
    copy = next(s for s in only([first, again]).sources if s.source == "aftermarket")
    assert (copy.cured, copy.failed_later) == (0, 1)


def test_a_part_fitted_where_the_fault_lay_elsewhere_is_no_bad_part():
    wrong_guess = case(1, fitted("maker", "no change"), cause="charging.battery.weak")
    bad_part = case(1, fitted("maker", "no change"))
    guessed, bad = only([wrong_guess]).sources[0], only([bad_part]).sources[0]
    assert (guessed.tried, guessed.no_change, guessed.elsewhere) == (1, 1, 1)
    assert guessed.success > bad.success


def test_without_a_price_there_is_no_cost_and_no_cheapest_way():
    parts = only(shop(("used", "cured", None)))
    assert (parts.sources[0].expected_cost, parts.cheapest_way) == (None, None)


def test_cost_is_not_allowed_to_decide_a_safety_part():
    held = [
        case(1, fitted("maker", "cured", price=300.0, component="brakes.caliper")),
        case(2, fitted("used", "cured", price=20.0, component="brakes.caliper")),
        case(3, fitted("maker", "cured", price=300.0, component="brakes.caliper")),
    ]
    parts = only(held)
    assert parts.cheapest_way is None
    assert "safety part" in parts.says
    assert best_source(held, "brakes.caliper", terms=TERMS).source == "maker"


def test_an_unknown_component_or_an_empty_shop_has_no_outcomes():
    assert part_outcomes([], terms=TERMS) == ()
    assert part_outcomes(shop(*COPIES), component="cooling.cap", terms=TERMS) == ()
    assert best_source([], SENSOR, terms=TERMS) is None


def test_two_sources_with_little_behind_them_are_undecided():
    parts = only(shop(("maker", "cured", 100.0), ("rebuilt", "cured", 98.0)))
    assert parts.undecided
    assert "too little is known" in parts.says


RESULTS = st.lists(
    st.tuples(
        st.sampled_from(["maker", "aftermarket", "rebuilt", "used", "own stock"]),
        st.sampled_from(["cured", "partly", "no change", "failed later", None]),
        st.one_of(st.none(), st.floats(1, 900)),
    ),
    min_size=1,
    max_size=30,
)


@given(RESULTS)
def test_every_fitting_is_counted_once_and_success_stays_inside_its_limits(results):
    parts = only(shop(*results))
    assert sum(source.tried for source in parts.sources) == len(results)
    for source in parts.sources:
        assert 0 < source.low < source.success < source.high < 1
        assert (source.expected_cost is None) == (source.median_price is None)


@given(RESULTS, st.randoms(use_true_random=False))
def test_the_order_of_the_cases_does_not_matter(results, rnd):
    cases = shop(*results)
    shuffled = rnd.sample(cases, k=len(cases))
    assert part_outcomes(shuffled, terms=TERMS) == part_outcomes(cases, terms=TERMS)
