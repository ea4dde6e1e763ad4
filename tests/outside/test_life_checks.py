"""Lives by odometer against NIST's handbook, published data and lifelines; sources are in recurrence.json."""

import json
from pathlib import Path

import pytest

from baylore_kb import recurrence
from baylore_kb.recurrence import Span, Watched

CASES = json.loads((Path(__file__).parent / "recurrence.json").read_text(encoding="utf-8"))["cases"]


def checks(start):
    return [pytest.param(case, id=case["id"]) for case in CASES if case["id"].startswith(start)]


def spans(given):
    entries = given.get("entry", [0.0] * len(given["time"]))
    return [Span(t, bool(e), s) for t, e, s in zip(given["time"], given["event"], entries, strict=True)]


def test_an_ended_test_gives_the_handbooks_weibull():
    (case,) = (case for case in CASES if case["id"] == "C-weibull-nist")
    given, want = case["inputs"], case["expected"]
    held = [Span(t, True) for t in given["failures"]] + [Span(t, False) for t in given["censored"]]
    found = recurrence.weibull(held)
    got = [found.shape, found.scale, found.log_likelihood, found.gone_at(0.1)]
    assert got == pytest.approx([want[name] for name in ("shape", "scale", "loglik", "B10")], rel=5e-4)


@pytest.mark.parametrize("case", checks("C-weibull-lefttrunc") + checks("C-weibull-odo"))
def test_late_entry_changes_the_life_and_is_heeded(case):
    given, want = case["inputs"], case["expected"]
    found = recurrence.weibull(spans(given))
    got = [found.shape, found.scale, found.log_likelihood, found.gone_at(0.1), found.gone_at(0.5)]
    names = ("shape", "scale", "loglik", "B10", "median")
    assert got == pytest.approx([want[name] for name in names], rel=1e-3)
    naive = recurrence.weibull([Span(one.end, one.failed) for one in spans(given)])
    wanted = [want["naive_shape_ignoring_entry"], want["naive_scale_ignoring_entry"]]
    assert [naive.shape, naive.scale] == pytest.approx(wanted, rel=1e-3)


@pytest.mark.parametrize("case", checks("C-km-6mp"))
def test_survival_equals_the_published_trial(case):
    steps, want = recurrence.survival(spans(case["inputs"])), case["expected"]
    got = {step.at: step.survival for step in steps}
    assert got == pytest.approx({int(t): s for t, s in want["survival"].items()}, abs=1e-4)
    assert recurrence.median_life(steps) == want["median"]
    (ten,) = (step for step in steps if step.at == 10)
    assert (ten.low, ten.high) == pytest.approx(want["ci_loglog_at_10"], abs=1e-4)


@pytest.mark.parametrize("case", checks("C-km-entry"))
def test_only_cars_seen_before_are_at_risk(case):
    steps = recurrence.survival(spans(case["inputs"]))
    table = case["expected"]["table"]
    assert [(s.at, s.at_risk, s.failed) for s in steps] == [
        (r["t"], r["at_risk"], r["failed"]) for r in table
    ]
    assert [s.survival for s in steps] == pytest.approx([row["survival"] for row in table], abs=1e-6)


@pytest.mark.parametrize("case", checks("C-righttrunc"))
def test_failures_alone_look_too_short_and_the_condition_mends_some(case):
    given, want = case["inputs"], case["expected"]
    naive = recurrence.weibull([Span(t, True) for t in given["failure_odo"]])
    wanted = [want["naive_shape"], want["naive_scale"]]
    assert [naive.shape, naive.scale] == pytest.approx(wanted, rel=3e-3)
    found = recurrence.weibull_of_failed(given["failure_odo"], given["odometer_limit"])
    wanted = [want[name] for name in ("conditional_shape", "conditional_scale", "conditional_loglik")]
    assert [found.shape, found.scale, found.log_likelihood] == pytest.approx(wanted, rel=3e-3)


@pytest.mark.parametrize("case", checks("C-mcf"))
def test_repeated_repairs_add_up_per_car(case):
    cars = [Watched(tuple(car["events"]), car["last_seen"]) for car in case["inputs"]["cars"]]
    got = [(row.at, row.at_risk, row.events, row.mean) for row in recurrence.mean_repairs(cars)]
    table = case["expected"]["table"]
    assert [row[:3] for row in got] == [(row["t"], row["at_risk"], row["events"]) for row in table]
    assert [row[3] for row in got] == pytest.approx([row["mcf"] for row in table], abs=1e-6)
