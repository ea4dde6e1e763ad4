"""Parts by source: what cured, what failed, and the cheapest way to a working car."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.parts import best_source, part_outcomes
from baylore_kb.values import Case, Complaint, Labour, PartTried, Terms

FAN, CAUSE = "cooling.fan_motor", "cooling.fan_motor.worn"
TERMS = Terms(rate_per_hour=60.0, currency="USD", comeback_cost_min=60.0)


def case(number, *tried, cause=CAUSE, state="closed", returned_as=()):
    complaint = Complaint("fan does not run", parts=tried)
    labour = Labour(repair_min=30.0)
    return Case(f"c{number}", complaint, state=state, cause=cause, labour=labour, returned_as=returned_as)


def fitted(source, result, *, price=None, component=FAN):
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
    assert parts.says.startswith(
        "Maker 118 USD: cured 9 of 9 (74 to 98 %). Copy 24 USD: cured 3 of 7 (39 to 80 %)."
    )


def test_a_cheap_part_that_seldom_cures_can_be_the_dear_way():
    costly = Terms(rate_per_hour=95.0, comeback_cost_min=180.0)
    (parts,) = part_outcomes(shop(*COPIES, *MAKERS), terms=costly)
    assert parts.cheapest_way == "maker"
    assert best_source(shop(*COPIES, *MAKERS), FAN, terms=costly).source == "maker"


def test_expected_cost_is_price_and_labour_and_a_comeback_for_each_failure():
    (maker,) = only(shop(*MAKERS)).sources
    known = 1 - maker.success
    assert maker.expected_cost > (118 + 30 + known * 60) / (1 - known)
    assert maker.expected_cost == pytest.approx((118 + 30 + known * 60) / (1 - known), rel=0.02)


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


SAFETY = [
    "brakes.caliper",
    "abs_stab.sensor",
    "steering.rack",
    "restraint.clock_spring",
    "hv.contactor",
    "fuel.line",
]


@pytest.mark.parametrize("component", SAFETY)
def test_cost_is_not_allowed_to_decide_a_safety_part(component):
    held = [case(n, fitted("used", "cured", price=20.0, component=component)) for n in range(6)]
    held.append(case(7, fitted("maker", "partly", price=300.0, component=component)))
    parts = only(held)
    assert (parts.safety, parts.cheapest_way, parts.way) == (True, None, None)
    assert parts.says.endswith("A safety part: fit the maker's, cost may not decide.")
    assert best_source(held, component, terms=TERMS).source == "maker"


def test_a_safety_part_never_had_from_the_maker_is_still_wanted_from_there():
    held = [case(1, fitted("aftermarket", "cured", price=20.0, component="abs_stab.sensor"))]
    best = best_source(held, "abs_stab.sensor", terms=TERMS)
    assert (best.source, best.tried, best.expected_cost) == ("maker", 0, None)


@pytest.mark.parametrize("component", ["fuel.pump", "cooling.hose", "lighting.bulb", "own.shim"])
def test_other_parts_are_chosen_by_their_cost(component):
    assert not only([case(1, fitted("maker", "cured", component=component))]).safety


def test_an_unknown_component_or_an_empty_shop_has_no_outcomes():
    assert part_outcomes([], terms=TERMS) == ()
    assert part_outcomes(shop(*COPIES), component="cooling.cap", terms=TERMS) == ()
    assert best_source([], FAN, terms=TERMS) is None


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
