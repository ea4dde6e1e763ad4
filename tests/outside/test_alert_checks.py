"""Alerts, trends and changes against published tables and libraries; sources are in recurrence.json."""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from scipy.special import xlogy

from baylore_kb import recurrence
from baylore_kb.recurrence import Rate, Ratio, TwoByTwo, TwoGammas

CASES = json.loads((Path(__file__).parent / "recurrence.json").read_text(encoding="utf-8"))["cases"]


def checks(start):
    return [pytest.param(case, id=case["id"]) for case in CASES if case["id"].startswith(start)]


@pytest.mark.parametrize("case", checks("C-ebgm"))
def test_two_gammas_shrink_as_published(case):
    given, want = case["inputs"], case["expected"]
    theta = given["theta"]
    prior = TwoGammas(
        Ratio(theta["alpha1"], theta["beta1"]), Ratio(theta["alpha2"], theta["beta2"]), theta["P"]
    )
    belief = prior.after(given["N"], given["E"])
    got = [belief.share, belief.geometric_mean, belief.quantile(0.05), belief.quantile(0.95)]
    assert got == pytest.approx([want[name] for name in ("Qn", "EBGM", "EB05", "EB95")], rel=1e-5)
    assert given["N"] / given["E"] == pytest.approx(want["RR"], rel=1e-5)


@pytest.mark.parametrize("case", checks("C-prr"))
def test_ratios_of_a_two_by_two_table_have_their_limits(case):
    table, want = TwoByTwo(*(case["inputs"][name] for name in "abcd")), case["expected"]
    got = [table.share_ratio, *table.share_limits, table.odds_ratio, *table.odds_limits]
    names = ("PRR", "PRR_lo", "PRR_hi", "ROR", "ROR_lo", "ROR_hi")
    assert got == pytest.approx([want[name] for name in names], rel=1e-6)
    rest = [table.chi_square, table.expected, table.information]
    assert rest == pytest.approx([want["chi2_yates"], want["expected"], want["IC"]], rel=1e-6)
    assert table.is_signal is want["evans_signal"]


@pytest.mark.parametrize("case", checks("C-tworate"))
def test_two_rates_are_told_apart_by_both_tests(case):
    given, want = case["inputs"], case["expected"]
    one, other = Rate(given["x1"], given["exposure1"]), Rate(given["x2"], given["exposure2"])
    assert recurrence.e_test_p(one, other) == pytest.approx(want["e_test_p"], abs=1e-5)
    assert recurrence.conditional_p(one, other) == pytest.approx(want["conditional_two_sided_p"], abs=1e-5)
    assert one.value / other.value == pytest.approx(want["ratio"], abs=1e-5)


@pytest.mark.parametrize("case", checks("C-alert"))
def test_the_least_alerting_count_is_the_exact_tails(case):
    given, want = case["inputs"], case["expected"]
    counts = [recurrence.least_count(e, given["alpha"]) for e in given["expected"]]
    assert counts == want["min_count"]
    tails = [recurrence.upper_p(n, e) for n, e in zip(counts, given["expected"], strict=True)]
    assert tails == pytest.approx(want["p_at_min"], rel=1e-6)


@pytest.mark.parametrize("case", checks("C-bh"))
def test_false_discoveries_are_controlled_as_published(case):
    given, want = case["inputs"], case["expected"]
    assert recurrence.adjusted(given["p"]) == pytest.approx(want["bh_adjusted"], abs=1e-6)
    assert sum(recurrence.discoveries(given["p"], false_share=given["q"])) == want["bh_rejected"]


@pytest.mark.parametrize("case", checks("C-cusum-arl"))
def test_run_lengths_equal_the_markov_chain(case):
    given, want = case["inputs"], case["expected"]
    assert recurrence.best_step(given["mu0"], given["mu1"]) == pytest.approx(want["k_optimal"], rel=1e-6)
    for mean, name in ((given["mu0"], "ARL0"), (given["mu1"], "ARL1")):
        got = recurrence.run_length(mean, step=given["k"], limit=given["h"])
        assert got == pytest.approx(want[name], rel=1e-6)


@pytest.mark.parametrize("case", checks("C-cusum-llr"))
def test_a_rise_adds_up_month_by_month(case):
    given, want = case["inputs"], case["expected"]
    found = recurrence.rise(given["x"], given["expected"], limit=given["h"], ratio=given["rate_ratio"])
    assert found.sums == pytest.approx(want["S"], abs=1e-6)
    assert found.first == want["first_signal_index"]


def test_the_coal_mining_change_is_dated_as_published():
    (case,) = (case for case in CASES if case["id"] == "C-changepoint-coal")
    given, want = case["inputs"], case["expected"]
    years = len(given["counts"])
    found = recurrence.change_point(given["counts"], [1.0] * years, prior=Ratio(given["a"], given["b"]))
    assert given["first_year"] + found.after == want["map_last_year_of_first_regime"]
    got = [max(found.chances), found.before_rate, found.after_rate, found.evidence]
    names = ("posterior_map", "mean_rate_before", "mean_rate_after", "log_bayes_factor_vs_no_change")
    assert got == pytest.approx([want[name] for name in names], rel=1e-5)
    assert found.convincing


@pytest.mark.parametrize("case", checks("C-changepoint-1") + checks("C-changepoint-2"))
def test_a_change_in_a_short_series_has_its_posterior(case):
    given, want = case["inputs"], case["expected"]
    found = recurrence.change_point(given["counts"], given["expected"], prior=Ratio(given["a"], given["b"]))
    assert found.chances == pytest.approx(want["posterior"], rel=1e-5)
    assert found.after + 1 == want["map_split_after_n"]
    assert found.evidence == pytest.approx(want["log_bayes_factor"], rel=1e-5)
    assert found.convincing is (want["log_bayes_factor"] > math.log(3))


def deviance(found, y, expected):
    """Of counts from what a trend fits to them."""
    fitted = expected * np.exp(found.intercept + found.slope * np.arange(len(y)))
    return 2.0 * float((xlogy(y, y / fitted) - (y - fitted)).sum())


@pytest.mark.parametrize("case", checks("C-trend"))
def test_a_trend_equals_the_poisson_regression(case):
    given, want = case["inputs"], case["expected"]
    found = recurrence.trend(given["y"], given["E"])
    told = deviance(found, given["y"], given["E"])
    got = [found.intercept, found.slope, found.per_period, found.error, found.p, told]
    names = ("intercept", "slope", "rate_ratio_per_period", "se", "p", "deviance")
    assert got == pytest.approx([want[name] for name in names], abs=1e-5)
