"""Measures: limits and orders that hold for every ranking and forecast."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb import metrics

IDS = st.lists(st.sampled_from("abcdefgh"), unique=True, max_size=8)
GRADES = st.dictionaries(st.sampled_from("abcdefgh"), st.integers(0, 3))
FORECASTS = st.lists(st.tuples(st.floats(0, 1), st.integers(0, 1)), min_size=1, max_size=60)


@given(IDS, GRADES, st.integers(1, 8))
def test_every_measure_lies_between_nought_and_one(run, grades, k):
    per_k = [metrics.ndcg, metrics.recall, metrics.precision, metrics.success]
    values = [measure(run, grades, k) for measure in per_k]
    values += [metrics.reciprocal_rank(run, grades), metrics.average_precision(run, grades)]
    assert all(0 <= value <= 1 + 1e-12 for value in values)


@given(GRADES)
def test_the_best_order_scores_one(grades):
    best = metrics.ranked({name: float(grade) for name, grade in grades.items()})
    relevant = any(grade > 0 for grade in grades.values())
    assert metrics.ndcg(best, grades) == pytest.approx(1.0 if relevant else 0.0)


@given(st.dictionaries(st.text(max_size=3), st.integers(0, 2)))
def test_equal_scores_always_rank_the_same(scores):
    given_order = metrics.ranked(scores)
    assert metrics.ranked(dict(reversed(scores.items()))) == given_order


def test_queries_without_anything_relevant_are_left_out_and_counted():
    got = metrics.mean_over({"a": 1.0, "b": 0.0}, {"a": {"x": 1}, "b": {}})
    assert (got.mean, got.queries, got.left_out) == (1.0, 1, 1)
    assert metrics.mean_over({}, {}).mean is None


@given(FORECASTS)
def test_the_bins_hold_every_forecast_once(pairs):
    p, y = zip(*pairs, strict=True)
    table = metrics.reliability(p, y)
    assert sum(one.count for one in table.bins) == len(pairs)
    assert 0 <= metrics.expected_calibration_error(p, y) <= 1 + 1e-12


@given(st.lists(st.integers(0, 1), min_size=1))
def test_certain_and_right_costs_nothing(y):
    p = [float(truth) for truth in y]
    assert metrics.brier(p, y) == metrics.log_loss(p, y) == metrics.expected_calibration_error(p, y) == 0


@given(st.lists(st.integers(0, 1), min_size=1), st.sampled_from([0.0, 1.0]))
def test_certain_and_wrong_costs_much_but_not_infinity(y, certain):
    assert metrics.log_loss([certain] * len(y), y) < 40


@given(st.lists(st.integers(-4, 4), max_size=9))
def test_turning_the_comparison_round_keeps_the_p_value(gaps):
    zeros = [0.0] * len(gaps)
    forth, back = metrics.sign_flip(gaps, zeros), metrics.sign_flip(zeros, gaps)
    assert forth.p_value == back.p_value
    assert forth.mean_difference == -back.mean_difference


def test_many_queries_are_drawn_and_repeat_exactly():
    a, b = [0.1 * (i % 7) for i in range(40)], [0.1 * (i % 5) for i in range(40)]
    first = metrics.sign_flip(a, b)
    assert not first.exact
    assert first == metrics.sign_flip(a, b)
    assert 0 < first.p_value <= 1
