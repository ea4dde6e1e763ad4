"""How far a part runs, from cars that come and go."""

from datetime import UTC, datetime

from baylore_kb.recurrence import part_life
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Measure, Vehicle

FAULT, OTHER = "charging.battery.weak", "brakes.pad.worn"


def visit(car, km, cause):
    vehicle = Vehicle(
        make="Tarrow", model="Wren", vin=f"TESTCAR{car:010d}", odometer=Measure(km * 1000.0, "km")
    )
    return Case(
        f"v{car}-{km}",
        Complaint("made up", vehicle),
        state="closed",
        cause=cause,
        opened=datetime(2026, 1, 1, tzinfo=UTC),
    )


def cars(failing, others=6):
    seen = [visit(car, 40 + car, OTHER) for car in range(failing + others)]
    failed = [visit(car, 90 + 5 * car, FAULT) for car in range(failing)]
    return [*seen, *failed, *(visit(car, 160, OTHER) for car in range(failing, failing + others))]


def life(cases):
    return part_life(cases, model="tarrow wren", component="charging.battery", trade=load())


def test_a_life_curve_counts_cars_from_their_first_visit_on():
    found = life(cars(6))
    assert (found.cars, found.failures, found.dropped) == (12, 6, 0)
    assert [step.at_risk for step in found.steps] == [12, 11, 10, 9, 8, 7]
    assert found.steps[-1].survival == 0.5 and found.median_km == 115_000
    assert found.fit.shape > 1 and "alive at 90 000 km" in found.says


def test_a_car_first_seen_failed_is_dropped_and_counted():
    lone = [visit(100 + n, 80, FAULT) for n in range(3)]
    found = life([*cars(6), *lone])
    assert (found.failures, found.dropped) == (6, 3)
    assert "3 failed at their first visit" in found.says


def test_few_failures_give_no_curve_but_say_why():
    found = life(cars(3))
    assert (found.steps, found.fit, found.median_km) == ((), None, None)
    assert "too few for a life curve" in found.says


def test_no_case_of_the_model_gives_an_empty_life():
    found = part_life([], model="Tarrow Wren", component="charging.battery", trade=load())
    assert (found.cars, found.failures, found.steps) == (0, 0, ())
