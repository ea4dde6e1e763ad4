"""Measures against trec_eval, scikit-learn and textbook values; sources are in the JSON beside it."""

import json
from pathlib import Path

import pytest

from baylore_kb import metrics
from baylore_kb.readings import similarity
from baylore_kb.values import Likened

HERE = Path(__file__).parent
CASES = {c["id"]: c for c in json.loads((HERE / "metrics.json").read_text(encoding="utf-8"))["cases"]}
CALIBRATION = {
    c["id"]: c for c in json.loads((HERE / "calibration.json").read_text(encoding="utf-8"))["cases"]
}


def measured(run, grades):
    at = {f"{name}@{k}": (f, k) for k in (1, 3, 5) for name, f in PER_K.items()}
    values = {name: f(run, grades, k) for name, (f, k) in at.items()}
    return values | {
        "RR": metrics.reciprocal_rank(run, grades),
        "AP": metrics.average_precision(run, grades),
    }


PER_K = {"nDCG": metrics.ndcg, "P": metrics.precision, "R": metrics.recall, "Success": metrics.success}


@pytest.mark.parametrize("name", ["F-set-1", "F-set-2"])
def test_ranking_measures_equal_trec_eval_query_by_query(name):
    inputs, expected = CASES[name]["inputs"], CASES[name]["expected"]
    for query, want in expected["per_query"].items():
        got = measured(inputs["run"][query], inputs["qrels"][query])
        assert {measure: got[measure] for measure in want} == pytest.approx(want, abs=1e-6)


@pytest.mark.parametrize("name", ["F-set-1", "F-set-2"])
def test_means_over_queries_equal_trec_eval(name):
    inputs, expected = CASES[name]["inputs"], CASES[name]["expected"]
    by_query = {query: measured(run, inputs["qrels"][query]) for query, run in inputs["run"].items()}
    for measure, want in expected["mean"].items():
        values = {query: got[measure] for query, got in by_query.items()}
        assert metrics.mean_over(values, inputs["qrels"]).mean == pytest.approx(want, abs=1e-6)


def test_dcg_has_linear_gain():
    case = CASES["F-dcg-classic"]
    grades, ideal = case["inputs"]["grades"], case["inputs"]["grades"] + case["inputs"]["unseen"]
    got = metrics.dcg(grades)
    best = metrics.dcg(sorted(ideal, reverse=True)[: len(grades)])
    assert got == pytest.approx(case["expected"]["dcg"], abs=1e-3)
    assert best == pytest.approx(case["expected"]["idcg"], abs=1e-3)
    assert got / best == pytest.approx(case["expected"]["ndcg"], abs=1e-3)


@pytest.mark.parametrize("name", ["F-sk-1", "F-sk-2"])
def test_ndcg_of_scores_equals_scikit_learn(name):
    inputs = CASES[name]["inputs"]
    got = metrics.ndcg_of_scores(inputs["true"], inputs["score"])
    assert got == pytest.approx(CASES[name]["expected"]["ndcg"], abs=1e-6)


def test_tied_scores_are_averaged_between_their_best_and_worst_order():
    case = CASES["F-ties"]
    got = metrics.ndcg_of_scores(case["inputs"]["true"], case["inputs"]["score"])
    assert got == pytest.approx(case["expected"]["sklearn_averaged"], abs=1e-6)
    best = metrics.dcg([1, 0, 0, 1]) / metrics.dcg([1, 1])
    worst = metrics.dcg([0, 0, 1, 1]) / metrics.dcg([1, 1])
    assert (best, worst) == pytest.approx(
        (case["expected"]["best_order"], case["expected"]["worst_order"]), abs=1e-6
    )


def test_sign_flip_equals_exact_enumeration():
    case = CASES["F-boot-1"]
    got = metrics.sign_flip(case["inputs"]["a"], case["inputs"]["b"])
    assert got.exact
    assert got.mean_difference == pytest.approx(case["expected"]["mean_diff"], abs=1e-6)
    assert got.p_value == pytest.approx(case["expected"]["p_two_sided"], abs=1e-6)


def test_brier_and_log_loss_equal_scikit_learn():
    case = CALIBRATION["B-brier-sklearn-doc"]
    p, y = case["inputs"]["p"], case["inputs"]["y"]
    assert metrics.brier(p, y) == pytest.approx(case["expected"]["brier"], abs=1e-9)
    assert metrics.log_loss(p, y) == pytest.approx(case["expected"]["log_loss"], abs=1e-8)


def test_reliability_table_equals_the_direct_formula():
    case = CALIBRATION["B-reliab-1"]
    got = metrics.reliability(case["inputs"]["p"], case["inputs"]["y"])
    want = case["expected"]["table"]
    assert [(b.index, b.count) for b in got.bins] == [(row["bin"], row["n"]) for row in want]
    assert [b.mean_forecast for b in got.bins] == pytest.approx([r["mean_p"] for r in want], abs=1e-6)
    assert [b.share_true for b in got.bins] == pytest.approx([r["frac_pos"] for r in want], abs=1e-6)
    parts = {name: getattr(got, name) for name in ("ece", "reliability", "resolution", "uncertainty")}
    assert parts == pytest.approx({name: case["expected"][name] for name in parts}, abs=1e-6)


@pytest.mark.parametrize("name", [name for name in CALIBRATION if name.startswith("B-numsim")])
def test_readings_are_alike_by_the_tolerance_form(name):
    given, want = CALIBRATION[name]["inputs"], CALIBRATION[name]["expected"]
    a, b = (Likened("value", given[side], given["tolerance"], given["scale"]) for side in ("a", "b"))
    assert similarity(a, b) == pytest.approx(want["gauss"], abs=1e-6)
