"""Pooling and Bayes against values worked from their formulas; each check names its source in the JSON."""

import json
from pathlib import Path

import numpy as np
import pytest

from baylore_kb.causes.pool import bayes, outcome_chances, pooled

CHECKS = json.loads((Path(__file__).parent / "posterior.json").read_text())["cases"]


def checks(start):
    return [pytest.param(case, id=case["id"]) for case in CHECKS if case["id"].startswith(start)]


@pytest.mark.parametrize("case", checks("A-bayes"))
def test_a_passed_or_failed_test_moves_the_causes(case):
    prior, fails = (np.array(case["inputs"][name]) for name in ("prior", "p_fail_given_cause"))
    expected = case["expected"]
    assert prior @ fails == pytest.approx(expected["p_fail"], abs=1e-6)
    assert bayes(prior, fails) == pytest.approx(expected["posterior_if_fail"], abs=1e-6)
    assert bayes(prior, 1.0 - fails) == pytest.approx(expected["posterior_if_pass"], abs=1e-6)


@pytest.mark.parametrize("case", checks("B-lik"))
def test_few_counts_are_shrunk_to_the_usual_rate(case):
    given, expected = case["inputs"], case["expected"]
    counts = np.array(list(given["counts"].values()), dtype=float)
    chances = outcome_chances(counts, np.array(given["overall_rate"]), alpha=given["alpha"])
    assert chances == pytest.approx(np.array(list(expected["likelihood"].values())), abs=1e-6)
    after = bayes(np.array(list(given["prior"].values())), chances[:, given["observed_outcome"]])
    assert after == pytest.approx(list(expected["posterior"].values()), abs=1e-6)


@pytest.mark.parametrize("case", checks("B-knn"))
def test_past_cases_are_pooled_with_the_base_rate(case):
    given = case["inputs"]
    causes = list(given["base_rate"])
    counts = np.zeros(len(causes))
    for cause, similarity in zip(given["cause"], given["similarity"], strict=True):
        counts[causes.index(cause)] += similarity
    found = pooled(counts, np.array(list(given["base_rate"].values())), alpha=given["alpha"])
    expected = [case["expected"]["posterior"][cause] for cause in causes]
    assert found == pytest.approx(expected, abs=1e-6)
    assert found.sum() == pytest.approx(1.0)
