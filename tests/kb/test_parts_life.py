"""How far fitted parts run, by the odometer of later visits."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.parts import Run, life_curve, part_outcomes
from baylore_kb.values import Case, Complaint, Measure, PartTried, Terms, Vehicle

FAN, CAUSE = "cooling.fan_motor", "cooling.fan_motor.worn"
VIN = "VIN{}"


def visit(name, car, km, *parts, cause=CAUSE, unit="km"):
    vehicle = Vehicle(odometer=Measure(km, unit), vin=VIN.format(car))
    return Case(name, Complaint("fan dead", vehicle, parts=parts), state="closed", cause=cause)


def fan(source="aftermarket", price=50.0):
    return PartTried(FAN, source, "cured", price)


def life_of(cases):
    (parts,) = part_outcomes(cases, component=FAN, terms=Terms())
    return {row.source: row for row in parts.sources}


def cars(count, distance, **options):
    for car in range(count):
        yield visit(f"a{car}", car, 100_000, fan(), **options)
        yield visit(f"b{car}", car, 100_000 + distance, **options)


def test_parts_that_failed_again_have_a_life_and_a_cost_by_distance():
    row = life_of(cars(4, 20_000))["aftermarket"]
    assert 15_000 < row.life_km < 20_001
    assert row.per_1000_km == pytest.approx(1000 * row.expected_cost / row.life_km)


def test_parts_that_still_run_lengthen_the_life():
    running = [
        case
        for car in range(10, 20)
        for case in (
            visit(f"a{car}", car, 50_000, fan()),
            visit(f"b{car}", car, 90_000, cause="lighting.bulb.open"),
        )
    ]
    short = life_of(cars(4, 20_000))["aftermarket"].life_km
    assert life_of([*cars(4, 20_000), *running])["aftermarket"].life_km > 1.5 * short


def test_cars_not_seen_again_and_few_failures_give_no_life():
    assert life_of([visit("a", 1, 100_000, fan())])["aftermarket"].life_km is None
    assert life_of(cars(2, 20_000))["aftermarket"].life_km is None


def test_miles_and_kilometres_are_one_odometer():
    miles = [visit(f"a{car}", car, 62_137.1, fan(), unit="mi") for car in range(3)]
    km = [visit(f"b{car}", car, 120_000) for car in range(3)]
    assert life_of([*miles, *km])["aftermarket"].life_km == pytest.approx(17_700, rel=0.1)


def test_a_comeback_without_a_vin_is_the_same_car():
    def case(name, km, *parts, of=None):
        vehicle = Vehicle(odometer=Measure(km, "km"))
        return Case(name, Complaint("", vehicle, parts=parts), state="closed", cause=CAUSE, comeback_of=of)

    cases = [c for n in range(3) for c in (case(f"a{n}", 1000, fan()), case(f"b{n}", 9000, of=f"a{n}"))]
    assert life_of(cases)["aftermarket"].life_km == pytest.approx(7144, rel=0.05)


@given(st.lists(st.builds(Run, st.floats(1, 3e5), st.booleans()), max_size=20), st.floats(0.1, 50))
def test_a_life_scales_with_the_distances_and_follows_only_from_failures(runs, times):
    curve, scaled = life_curve(runs), life_curve([Run(run.km * times, run.failed) for run in runs])
    assert (curve is None) == (sum(run.failed for run in runs) < 3)
    if curve is not None:
        assert scaled.mean_km == pytest.approx(times * curve.mean_km, rel=1e-3)
