"""Part sources against closed forms and SciPy; each check names its source in part_source.json."""

import json
from pathlib import Path

import pytest

from baylore_kb import parts
from baylore_kb.parts import FailureChance, Offer, Run

CASES = json.loads((Path(__file__).parent / "part_source.json").read_text(encoding="utf-8"))["cases"]


def checks(start):
    return [pytest.param(case, id=case["id"]) for case in CASES if case["id"].startswith(start)]


@pytest.mark.parametrize("case", checks("D-renewal"))
def test_ways_to_a_working_car_cost_the_closed_form(case):
    cheap, dear = Offer(**case["inputs"]["cheap"]), Offer(**case["inputs"]["dear"])
    then = parts.retry_cost(dear)
    want = dict(case["expected"])
    ways = {
        "cheap_retry": parts.retry_cost(cheap),
        "dear_retry": then,
        "cheap_then_dear": parts.once_then_cost(cheap, then),
    }
    assert min(ways, key=ways.__getitem__) == want.pop("best")
    more = {
        "break_even_fail_cheap_then_dear": parts.break_even_fail(cheap, then),
        "expected_visits_cheap_retry": parts.expected_visits(cheap),
    }
    assert ways | more == pytest.approx(want, rel=1e-6)


@pytest.mark.parametrize("case", checks("D-life"))
def test_short_lived_parts_cost_more_per_distance(case):
    cheap, dear = case["inputs"]["cheap"], case["inputs"]["dear"]
    lives = [{"shape": one["shape"], "scale": one["scale_1000km"]} for one in (cheap, dear)]
    want = case["expected"]
    means = [parts.mean_life(**life) for life in lives]
    assert means == pytest.approx([want["mean_life_cheap"], want["mean_life_dear"]], rel=1e-6)
    rates = [parts.cost_per_distance(o["cost"], **life) for o, life in zip((cheap, dear), lives, strict=True)]
    assert rates == pytest.approx([want["cost_rate_cheap"], want["cost_rate_dear"]], rel=1e-6)
    assert [parts.fails_by(20, **life) for life in lives] == pytest.approx(want["p_fail_by_20"], rel=1e-6)


@pytest.mark.parametrize("case", checks("D-betabin"))
def test_a_source_is_shrunk_to_the_pooled_rate(case):
    given = case["inputs"]
    prior = FailureChance(given["prior_a"], given["prior_b"])
    chance = prior.after(given["failures"], given["fitted"])
    got = {
        "mean": chance.mean,
        "lo": chance.quantile(0.05),
        "hi": chance.quantile(0.95),
        "p_fail_gt_pooled": chance.over(prior.mean),
        "E_attempts_same_latent_rate": chance.attempts,
        "plug_in_attempts": 1 / (1 - chance.mean),
        "predictive_two_good": chance.all_good(2),
    }
    assert got == pytest.approx(case["expected"], abs=1e-6)


@pytest.mark.parametrize("case", checks("D-pool"))
def test_the_pooled_prior_is_the_likeliest_beta(case):
    given, want = case["inputs"], case["expected"]
    prior = parts.pooled(given["failures"], given["fitted"])
    assert (prior.a, prior.b) == pytest.approx((want["a"], want["b"]), rel=0.002)
    shrunk = [prior.after(x, n).mean for x, n in zip(given["failures"], given["fitted"], strict=True)]
    assert shrunk == pytest.approx(want["shrunk"], rel=0.002)


@pytest.mark.parametrize("case", checks("D-sequential"))
def test_tries_before_switching_learn_from_each_failure(case):
    given, want = case["inputs"], case["expected"]
    costs = parts.cost_by_tries(
        FailureChance(given["prior_a"], given["prior_b"]),
        fitting=given["price_plus_labour"],
        on_fail=given["cost_per_failure"],
        then_cost=given["dear_total"],
        most=len(want["cost_by_max_tries"]) - 1,
    )
    assert costs == pytest.approx(want["cost_by_max_tries"], rel=1e-6)
    assert costs.index(min(costs)) == want["best_max_tries"]


@pytest.mark.parametrize("case", checks("D-betabin"))
def test_retrying_with_an_unknown_chance_takes_the_expected_attempts(case):
    given = case["inputs"]
    chance = FailureChance(given["prior_a"], given["prior_b"]).after(given["failures"], given["fitted"])
    one = Offer(price=1.0, labour=0.0, fail=chance.mean, on_fail=0.0)
    attempts = case["expected"]["E_attempts_same_latent_rate"]
    assert parts.unsure_retry_cost(one, chance) == pytest.approx(attempts, rel=1e-6)


@pytest.mark.parametrize("case", checks("C-weibull-nist"))
def test_a_life_with_running_parts_is_the_likeliest_weibull(case):
    given, want = case["inputs"], case["expected"]
    runs = [Run(km, failed=True) for km in given["failures"]] + [
        Run(km, failed=False) for km in given["censored"]
    ]
    curve = parts.life_curve(runs)
    assert (curve.shape, curve.scale) == pytest.approx((want["shape"], want["scale"]), rel=0.0005)
