"""The arithmetic of alerts, changes and lives keeps its promises on any input."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb import recurrence
from baylore_kb.recurrence import Ratio, Span, TwoByTwo, TwoGammas
from baylore_kb.recurrence.change import convincing_changes
from baylore_kb.recurrence.monthly import Months

CHANCES = st.lists(st.floats(0, 1), max_size=40)
SERIES = st.lists(st.tuples(st.integers(0, 40), st.floats(0.05, 30)), min_size=2, max_size=40)
SPANS = st.lists(
    st.tuples(st.floats(0, 300), st.floats(0.1, 300), st.booleans()).map(
        lambda each: Span(each[0] + each[1], each[2], each[0])
    ),
    max_size=30,
)


@given(CHANCES)
def test_an_adjusted_chance_is_never_smaller_and_keeps_the_order(chances):
    found = recurrence.adjusted(chances)
    assert all(p <= q + 1e-12 and q <= 1 for p, q in zip(chances, found, strict=True))
    by_chance = [q for _, q in sorted(zip(chances, found, strict=True))]
    assert by_chance == sorted(by_chance)


@given(SERIES)
def test_the_places_of_a_change_share_one_whole(series):
    found = recurrence.change_point(*map(list, zip(*series, strict=True)))
    assert math.fsum(found.chances) == pytest.approx(1)
    assert 0 <= found.first <= found.last < len(series) and len(found.chances) == len(series) - 1


@given(SERIES)
def test_a_trend_is_found_or_openly_not_known(series):
    counts, expected = map(list, zip(*series, strict=True))
    found = recurrence.trend(counts, expected)
    if found is not None:
        assert 0 <= found.p <= 1 and found.error > 0
        assert len(counts) >= 6 and sum(counts) >= 15


MONTH = st.tuples(st.integers(0, 9), st.sampled_from([0.0, 0.3, 1.7, 6.0]))
ROWS = st.integers(6, 20).flatmap(
    lambda months: st.lists(st.lists(MONTH, min_size=months, max_size=months), min_size=1, max_size=5)
)


@given(ROWS)
def test_many_series_at_once_are_each_as_alone(rows):
    counts, expected = np.moveaxis(np.array(rows), 2, 0)
    many = Months(0, counts.astype(int), expected.copy())
    alone = [Months(0, many.counts[at : at + 1], many.expected[at : at + 1]) for at in range(len(rows))]
    assert many.trends() == [one.trends()[0] for one in alone]
    changes = [each for one in alone for each in convincing_changes(one.counts, one.expected)[0]]
    assert convincing_changes(many.counts, many.expected)[0] == changes


def test_a_series_without_any_start_has_no_trend_to_tell():
    assert recurrence.trend([0] * 11 + [40], [1.0] * 12) is None


@given(SERIES, st.floats(0.5, 20))
def test_a_rise_is_never_negative_and_first_is_the_first(series, limit):
    found = recurrence.rise(*map(list, zip(*series, strict=True)), limit=limit)
    assert min(found.sums) >= 0
    reached = [at for at, each in enumerate(found.sums) if each >= limit]
    assert found.first == (reached[0] if reached else None)


def test_a_rise_begins_anew_after_an_alert_where_asked():
    found = recurrence.rise([6, 0, 6], [1.0, 1.0, 1.0], limit=2.0, restart=True)
    assert found.sums == pytest.approx((6 * math.log(2) - 1, 0.0, 6 * math.log(2) - 1))


def test_the_safe_limit_holds_for_counts_of_any_size():
    for mean in (0.25, 1.0, 4.0):
        step = mean / math.log(2.0)
        limit = recurrence.safe_limit(200.0) / math.log(2.0)
        assert recurrence.run_length(mean, step=step, limit=limit) >= 200.0


@given(SPANS)
def test_survival_falls_and_counts_only_who_was_there(spans):
    steps = recurrence.survival(spans)
    alive = [1.0, *(step.survival for step in steps)]
    assert alive == sorted(alive, reverse=True)
    assert all(step.failed <= step.at_risk <= len(spans) for step in steps)
    assert all(step.low <= step.survival + 1e-9 and step.survival <= step.high + 1e-9 for step in steps)


def test_a_car_first_seen_at_its_failure_tells_nothing_of_life():
    assert recurrence.survival([Span(90.0, True, 90.0)] * 9) == ()
    assert recurrence.weibull([Span(90.0, True, 90.0)] * 9) is None


def test_a_curve_starts_where_enough_are_at_risk():
    lone = [Span(10.0, True, 5.0)]
    many = [Span(50.0 + n, n % 2 == 0, 20.0) for n in range(12)]
    steps = recurrence.survival([*lone, *many], least_at_risk=5)
    assert steps[0].at == 50.0 and steps[0].at_risk == 12


@given(st.integers(0, 60), st.floats(0.01, 60), st.floats(0.02, 0.98))
def test_a_mixture_of_gammas_lies_between_its_parts(observed, expected, share):
    belief = TwoGammas(Ratio(2.0, 2.0), Ratio(8.0, 4.0), 0.2).after(observed, expected)
    ends = sorted(each.quantile(share) for each in (belief.first, belief.second))
    assert ends[0] - 1e-9 <= belief.quantile(share) <= ends[1] + 1e-9
    assert 0 <= belief.share <= 1


@given(st.integers(1, 30), st.integers(1, 30), st.integers(1, 30), st.integers(1, 30))
def test_limits_of_a_table_surround_their_ratio(both, row, column, rest):
    table = TwoByTwo(both, row, column, rest)
    assert table.odds_limits[0] < table.odds_ratio < table.odds_limits[1]
    assert table.share_limits[0] < table.share_ratio < table.share_limits[1]
    assert table.chi_square >= 0
