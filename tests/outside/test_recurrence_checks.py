"""Recurrence statistics against published tables and SciPy; sources are in recurrence.json."""

import json
from pathlib import Path

import pytest

from baylore_kb import recurrence
from baylore_kb.recurrence import Ratio

CASES = json.loads((Path(__file__).parent / "recurrence.json").read_text(encoding="utf-8"))["cases"]


def checks(start):
    return [pytest.param(case, id=case["id"]) for case in CASES if case["id"].startswith(start)]


@pytest.mark.parametrize("case", checks("C-gp-"))
def test_the_fitted_prior_is_the_likeliest_and_shrinks_each_pair(case):
    n, e, want = case["inputs"]["n"], case["inputs"]["E"], case["expected"]
    prior = recurrence.fitted(n, e)
    assert (prior.alpha, prior.beta) == pytest.approx((want["alpha"], want["beta"]), rel=1e-3)
    assert recurrence.log_likelihood(prior, n, e) == pytest.approx(want["loglik"], rel=1e-3)
    for row in want["posterior"]:
        belief = prior.after(row["n"], row["E"])
        got = belief.mean, belief.quantile(0.05), belief.quantile(0.95), belief.over(1.5)
        assert got == pytest.approx((row["mean"], row["lo"], row["hi"], row["p_gt_1_5"]), rel=1e-3)


@pytest.mark.parametrize("case", checks("C-gpfix"))
def test_a_fixed_prior_gives_the_conjugate_posterior(case):
    given = case["inputs"]
    belief = Ratio(given["alpha"], given["beta"]).after(given["n"], given["E"])
    got = {
        "mean": belief.mean,
        "q05": belief.quantile(0.05),
        "q95": belief.quantile(0.95),
        "p_gt_1": belief.over(1),
        "p_gt_2": belief.over(2),
    }
    assert got == pytest.approx(case["expected"], rel=1e-6)


@pytest.mark.parametrize("case", checks("C-openebgm-hand"))
def test_expected_counts_equal_the_hand_calculated_table(case):
    given, want = case["inputs"], case["expected"]
    cells = [(r, c) for r in given["rows"] for c in given["cols"]]
    counts = [n for row in given["table"] for n in row]
    pairs = [cell for cell, n in zip(cells, counts, strict=True) for _ in range(n)]
    expected = recurrence.table_expected(pairs)
    assert [expected[cell] for cell in cells] == pytest.approx(want["E"], abs=1e-6)
    ratios = [n / expected[cell] for cell, n in zip(cells, counts, strict=True)]
    assert ratios == pytest.approx(want["RR"], abs=1e-6)
    proportional = [recurrence.proportional_ratio(pairs, cell) for cell in cells]
    assert proportional == pytest.approx(want["PRR"], abs=1e-6)


@pytest.mark.parametrize("case", checks("C-smr"))
def test_standardised_ratio_has_exact_limits(case):
    strata, want = case["inputs"]["strata"], case["expected"]
    got = recurrence.standardised(
        [s["observed"] for s in strata], [s["visits"] for s in strata], [s["reference_rate"] for s in strata]
    )
    assert (got.observed, got.expected, got.ratio) == pytest.approx(
        (want["O"], want["E"], want["ratio"]), rel=1e-6
    )
    assert (got.low, got.high, got.upper_p) == pytest.approx(
        (want["lo"], want["hi"], want["p_upper"]), rel=1e-6
    )


@pytest.mark.parametrize("case", checks("C-prop"))
def test_proportion_intervals_equal_the_reference(case):
    x, n, want = case["inputs"]["x"], case["inputs"]["n"], case["expected"]
    assert recurrence.jeffreys_proportion(x, n) == pytest.approx(want["jeffreys_equal_tail"], abs=1e-6)
    assert recurrence.wilson_proportion(x, n) == pytest.approx(want["wilson"], abs=1e-6)
    assert recurrence.exact_proportion(x, n) == pytest.approx(want["clopper_pearson"], abs=1e-6)


@pytest.mark.parametrize("case", checks("C-pois"))
def test_count_limits_equal_the_reference(case):
    x, e, want = case["inputs"]["x"], case["inputs"]["E"], case["expected"]
    assert recurrence.garwood_count(x) == pytest.approx(want["garwood_mean"], abs=1e-6)
    ratio = [limit / e for limit in recurrence.jeffreys_count(x)]
    assert ratio == pytest.approx(want["jeffreys_ratio"], abs=1e-6)
    assert recurrence.upper_p(x, e) == pytest.approx(want["p_upper"], abs=1e-6)
    assert recurrence.mid_upper_p(x, e) == pytest.approx(want["mid_p_upper"], abs=1e-6)
