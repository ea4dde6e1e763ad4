"""What was planted in the demo garage can be counted in its cases."""

from __future__ import annotations

from collections import Counter

import pytest

from baylore_kb.trade import load
from baylore_kb.values import Case, Measure
from baylore_service.demo.generator import cases
from baylore_service.demo.planted import FULL_SHOP, PLANTED, Planted
from baylore_service.demo.world import models

PLANTS = pytest.mark.parametrize("plant", PLANTED, ids=lambda plant: plant.id)


def model_of(case: Case) -> str:
    return f"{case.complaint.vehicle.make} {case.complaint.vehicle.model}"


def of(plant: Planted, shop: tuple[Case, ...]) -> list[Case]:
    return [case for case in shop if case.cause in plant.causes and model_of(case) in plant.models]


@PLANTS
def test_a_planted_failure_names_listed_things(plant: Planted) -> None:
    assert set(plant.causes) <= set(load().causes)
    assert set(plant.models) <= {model.name for model in models()}
    assert len(plant.times) == len(plant.models)
    assert all(len(times) == len(plant.causes) for times in plant.times)


@PLANTS
def test_a_planted_failure_stands_out_on_its_models(plant: Planted) -> None:
    shop = [case for case in cases() if case.state == "closed"]
    on_models = [case for case in shop if model_of(case) in plant.models]
    elsewhere = [case for case in shop if model_of(case) not in plant.models]
    rate = len([case for case in on_models if case.cause in plant.causes]) / len(on_models)
    usual = len([case for case in elsewhere if case.cause in plant.causes]) / len(elsewhere)
    assert rate > 0.12
    assert rate > 5 * usual


@PLANTS
def test_a_planted_failure_is_there_as_often_as_said(plant: Planted) -> None:
    count = Counter((model_of(case), case.cause) for case in cases(count=FULL_SHOP))
    for model, times in zip(plant.models, plant.times, strict=True):
        for cause, least in zip(plant.causes, times, strict=True):
            assert count[model, cause] >= least


def test_the_planted_failures_are_the_most_common_of_all() -> None:
    count = Counter((model_of(case), case.cause) for case in cases() if case.cause)
    first = {pair for pair, _ in count.most_common(5)}
    expected = {(model, plant.causes[0]) for plant in PLANTED for model in plant.models}
    assert first == expected


@PLANTS
def test_most_of_a_planted_failure_happens_within_its_distance(plant: Planted) -> None:
    driven = [case.complaint.vehicle.odometer for case in of(plant, cases())]
    km = [each.value for each in driven if isinstance(each, Measure) and each.unit == "km"]
    within = [value for value in km if plant.km[0] * 0.98 <= value <= plant.km[1] * 1.05]
    assert len(within) >= 0.7 * len(km)


def test_copies_of_the_wheel_sensor_do_not_cure_and_the_makers_do() -> None:
    plant = next(each for each in PLANTED if each.id == "wheel_sensor")
    parts = [part for case in of(plant, cases()) for part in case.complaint.parts]
    cured = Counter(part.source for part in parts if part.result == "cured")
    tried = Counter(part.source for part in parts if part.component == "abs_stab.sensor")
    assert tried["aftermarket"] >= 6
    assert cured["aftermarket"] / tried["aftermarket"] < 0.4
    assert cured["maker"] / tried["maker"] > 0.85


def test_copies_cure_less_often_than_the_makers_parts_over_all() -> None:
    parts = [part for case in cases(seed=5, count=800) for part in case.complaint.parts]
    judged = [part for part in parts if part.result]
    share = {
        kind: sum(part.result == "cured" for part in judged if part.source == kind)
        / sum(part.source == kind for part in judged)
        for kind in ("maker", "aftermarket")
    }
    assert share["aftermarket"] < share["maker"]


def test_a_small_shop_gets_its_share_of_them() -> None:
    small = cases(count=120)
    assert all(1 <= len(of(plant, small)) <= 16 for plant in PLANTED)
