"""Which source to fit first: cheap once and then dear, and how sure that is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.parts import (
    FailureChance,
    Offer,
    cheapest_way,
    cost_by_tries,
    part_outcomes,
    retry_cost,
    unsure_retry_cost,
)
from baylore_kb.values import Case, Complaint, Labour, PartTried, Terms

FAN, CAUSE = "cooling.fan_motor", "cooling.fan_motor.worn"
KINDS = ["maker", "aftermarket", "rebuilt", "used", "own stock"]


def offer(price, chance, *, labour=60.0, on_fail=80.0):
    return Offer(price, labour, chance.mean, on_fail)


def choose(**sources):
    chances = {kind: chance for kind, (_, chance) in sources.items()}
    return cheapest_way({kind: offer(price, chance) for kind, (price, chance) in sources.items()}, chances)


def shop(*results):
    parts = (PartTried(FAN, source, result, price) for source, result, price in results)
    labour = Labour(repair_min=30.0)
    return [
        Case(f"c{n}", Complaint("fan dead", parts=(part,)), state="closed", cause=CAUSE, labour=labour)
        for n, part in enumerate(parts)
    ]


def test_a_cheap_source_of_unknown_worth_is_tried_once_before_the_dear_one():
    way = choose(aftermarket=(80, FailureChance(1, 3)), maker=(212, FailureChance(0.2, 40)))
    assert (way.first, way.tries, way.then) == ("aftermarket", 1, "maker")


def test_a_cheap_source_that_mostly_fails_is_not_tried_at_all():
    way = choose(aftermarket=(60, FailureChance(30, 10)), maker=(100, FailureChance(1, 40)))
    assert (way.first, way.then, way.sure > 0.95) == ("maker", None, True)


def test_the_way_costs_what_learning_from_each_failure_comes_to():
    cheap, dear = FailureChance(1, 3), FailureChance(0.2, 40)
    way = choose(aftermarket=(80, cheap), maker=(212, dear))
    then = unsure_retry_cost(offer(212, dear), dear)
    costs = cost_by_tries(cheap, fitting=140, on_fail=80, then_cost=then, most=3)
    assert way.cost == min(costs[1:])


def test_two_alike_sources_are_undecided_and_said_so():
    (parts,) = part_outcomes(shop(("maker", "cured", 100.0), ("rebuilt", "cured", 98.0)), terms=Terms())
    assert parts.undecided and 0.25 <= parts.way.sure <= 0.75
    assert "too little is known to be sure" in parts.says


def test_a_clear_choice_says_how_sure_it_is():
    results = [("aftermarket", "no change", 60.0)] * 8 + [("maker", "cured", 80.0)] * 8
    (parts,) = part_outcomes(shop(*results), terms=Terms())
    assert (parts.cheapest_way, parts.undecided) == ("maker", False)
    assert parts.says.endswith("% sure).")


def test_no_priced_source_gives_no_way_and_one_has_nothing_to_compare_with():
    assert cheapest_way({}, {}) is None
    assert choose(used=(40, FailureChance(1, 4))).sure is None


CHANCES = st.builds(FailureChance, st.floats(0.5, 20), st.floats(1, 40))
SOURCES = st.dictionaries(
    st.sampled_from(KINDS), st.tuples(st.floats(1, 900), CHANCES), min_size=1, max_size=4
)


@given(SOURCES)
def test_no_pure_way_is_cheaper_than_the_chosen_one(sources):
    way = choose(**sources)
    pure = {
        kind: unsure_retry_cost(offer(price, chance), chance) for kind, (price, chance) in sources.items()
    }
    assert way.cost <= min(pure.values()) + 1e-9
    assert way.sure is None or 0 <= way.sure <= 1


@given(SOURCES, st.floats(1.1, 5))
def test_dearer_money_for_all_changes_no_choice(sources, times):
    chances = {kind: chance for kind, (_, chance) in sources.items()}
    plain = {kind: offer(price, chance) for kind, (price, chance) in sources.items()}
    dear = {
        kind: Offer(o.price * times, o.labour * times, o.fail, o.on_fail * times) for kind, o in plain.items()
    }
    assert cheapest_way(dear, chances).cost == pytest.approx(times * cheapest_way(plain, chances).cost)


@given(CHANCES, st.floats(1, 900))
def test_not_knowing_the_failure_chance_never_makes_retrying_cheaper(chance, price):
    assert (
        unsure_retry_cost(offer(price, chance), chance) >= retry_cost(offer(price, chance)) * (1 - 1e-9)
        or chance.b < 1.5
    )
