"""What the office reads of the cases."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.office import Costs, cures, gaps, is_seasonal, job_times, losses, shelf, watch_list
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Correction, Labour, PartTried, Vehicle

NOW = datetime(2026, 6, 1, tzinfo=UTC)
FAN, PUMP = "cooling.fan_motor.worn", "fuel.pump.worn"


def case(n, cause=FAN, model="Linnet", *, ago=100.0, parts=(), **more):
    vehicle = Vehicle(make="Tarrow", model=model)
    when = NOW - timedelta(days=ago)
    complaint = Complaint("made up", vehicle, parts=tuple(parts))
    return Case(f"c{n}", complaint, state="closed", cause=cause, opened=when, closed=when, **more)


def test_the_watch_list_names_what_was_found_and_how_often_it_was_not_it():
    other = [case(10 + n, "cooling.thermostat.stuck_closed") for n in range(3)]
    held = [*(case(n) for n in range(5)), *other, case(30, PUMP), case(31, model="Wren")]
    first, second = watch_list(held, "tarrow LINNET", load())
    assert (first.component, first.found, first.jobs, first.not_it) == ("cooling.fan_motor", 5, 8, 3 / 8)
    assert second.component == "cooling.thermostat" and "Confirm it before fitting" in first.says


def test_the_watch_list_of_an_unknown_model_is_empty():
    assert watch_list([case(1)], "Tarrow Tern", load()) == ()


def fitted(ages, price=50.0):
    part = PartTried("cooling.fan_motor", "maker", "cured", price)
    return [case(n, ago=ago, parts=[part]) for n, ago in enumerate(ages)]


def test_a_part_often_needed_and_cheap_to_hold_is_kept():
    (row,) = shelf(fitted([7.0 * n for n in range(100)]), now=NOW, trade=load())
    assert row.fitted == 100 and row.expected == pytest.approx(100.5 * 7 / 730)
    assert row.keep >= 2 and row.short < 0.05 and "keep" in row.says


def test_a_dear_part_seldom_needed_is_ordered_when_needed():
    costs = Costs(rush=5.0, holding=1.0, lead_days=2.0)
    (row,) = shelf(fitted([30.0, 300.0, 700.0], price=2000.0), now=NOW, trade=load(), costs=costs)
    assert row.keep == 0 and "order when needed" in row.says


def test_a_part_of_the_coming_months_is_seasonal():
    assert is_seasonal([290.0, 300.0, 310.0, 340.0, 660.0])
    assert not is_seasonal([10.0, 40.0, 60.0, 100.0, 150.0])


@given(st.floats(1, 200), st.floats(0.05, 2), st.floats(1, 60))
def test_dearer_rushes_never_keep_fewer(rush, holding, days):
    cases = fitted([20.0 * n for n in range(30)])
    keeps = [
        shelf(cases, now=NOW, trade=load(), costs=Costs(cost, holding, days))[0].keep
        for cost in (rush, 4 * rush)
    ]
    assert keeps[0] <= keeps[1]


def test_cures_count_only_what_had_time_and_name_no_member():
    held = [case(n, ago=40 + n) for n in range(8)]
    held += [replace(case(20, ago=5), returned_as=("x",)), case(21, PUMP, ago=5)]
    report = cures(held, now=NOW, trade=load())
    (system,) = report.systems
    assert (system.name, system.closed, system.came_back) == ("cooling", 9, 1)
    assert system.low < system.cured < system.high and report.kinds[0].name == "worn"
    assert sum(row.closed for row in report.quarters) == 9


def test_losses_add_minutes_at_their_rate_and_parts_that_did_not_cure():
    wasted = [PartTried("cooling.fan_motor", "used", "no change", 30.0)]
    held = [
        case(1, labour=Labour(20, 30, 60, 90.0), parts=wasted),
        case(2, labour=Labour(20, 30, 30)),
        case(3, PUMP),
    ]
    (row,) = losses(held, trade=load(), rate_per_hour=100.0)
    assert (row.cause, row.cases, row.minutes, row.parts, row.parts_money) == (FAN, 2, 90, 1, 30.0)
    assert row.given == 90 + 50 + 30


def test_job_times_tell_the_middle_and_the_worst():
    held = [case(n, labour=Labour(10.0 * (n + 1), 0)) for n in range(10)]
    (row,) = job_times(held, load())
    assert (row.system, row.jobs, row.middle, row.most, row.worst) == ("cooling", 10, 55, 100, 100)
    assert job_times(held[:2], load()) == ()


def test_minutes_saved_compare_late_jobs_with_early_ones_of_a_system():
    held = [case(n, ago=400 - n, labour=Labour(60.0 if n < 6 else 25.0, 0)) for n in range(24)]
    found = gaps(held, load()).saved
    assert (found.early, found.late, found.minutes, found.jobs) == (60, 25, 35, 6)
    assert gaps(held[:5], load()).saved is None


def test_gaps_name_systems_tests_and_cases_that_lack_facts():
    symptom = next(id for id, each in load().symptoms.items() if each.systems[:1] == ("fuel",))
    waiting = Case("w", Complaint("made up", symptoms=(symptom,)))
    held = [replace(waiting, id=f"w{n}") for n in range(4)]
    found = gaps([*held, case(1), case(2, correction=Correction("replace"), verified=True)], load())
    assert [(row.system, row.complaints, row.closed) for row in found.systems] == [("fuel", 4, 0)]
    assert load().causes[FAN].confirm_test in found.unrecorded
    assert found.missing[0].case == "c1" and "correction" in found.missing[0].lacks


def test_an_empty_shop_has_nothing_to_tell():
    trade = load()
    assert cures([], now=NOW, trade=trade).quarters == () == shelf([], now=NOW, trade=trade)
    assert losses([], trade=trade, rate_per_hour=90.0) == () == gaps([], trade).missing
