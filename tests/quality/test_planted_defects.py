"""Planted defects are found and even shops stay quiet, on a few shops; `tests.bench.alerts` measures many."""

import pytest
from tests.quality.planted import Plan, told


@pytest.fixture(scope="module")
def even():
    return [told(Plan(), seed) for seed in range(3)]


@pytest.fixture(scope="module")
def planted():
    return [told(Plan(defects=4), 1000 + seed) for seed in range(3)]


def test_a_shop_without_defects_is_seldom_alarmed(even):
    assert sum(one.false for one in even) <= sum(one.quarters for one in even)


def test_most_planted_defects_are_found_soon_after_the_eighth_case(planted):
    assert sum(one.defects for one in planted) >= 10
    assert sum(one.found for one in planted) >= 0.7 * sum(one.defects for one in planted)


def test_a_defect_of_every_second_visit_is_found_at_once():
    (wait, *_) = told(Plan(models=6, systems=6, defects=1, ratio=12.0, months=48), 7).waits
    assert wait <= 6


def test_the_same_shop_tells_the_same_twice():
    assert told(Plan(months=30), 5) == told(Plan(months=30), 5)
