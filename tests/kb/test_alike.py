"""Two records of one visit are found; two visits, two cars and comebacks are not taken for one."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from made_cases import Maker

from baylore_kb.alike import Visits, bare, twin
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Measure, Vehicle

DAY = datetime(2026, 3, 2, 9, tzinfo=UTC)
CAR = Vehicle(2011, "Tarrow", "Linnet", odometer=Measure(141_000, "km"))
TEXT = "one click and nothing turns, lamps stay bright"
FIRST = Case("a", Complaint(TEXT, CAR), "closed", cause="starting.starter.worn", opened=DAY)
MADE = Maker(load(), seed=31).cases(40)


def other(*, text=TEXT, car=CAR, days=0, **more):
    return Case("b", Complaint(text, car), "closed", opened=DAY + timedelta(days=days), **more)


def test_the_same_car_told_alike_on_one_day_was_written_twice():
    found = twin(FIRST, other(text="one clik, nothing turns, lamps bright"))
    assert found and not found.exact and found.why[:2] == ("same car", "same day")


def test_the_same_written_under_another_id_is_exact():
    found = twin(FIRST, replace(FIRST, id="b", opened=DAY + timedelta(hours=2)))
    assert found and found.exact and found.alike == 1.0


def test_another_day_another_odometer_and_a_comeback_are_other_visits():
    later = replace(CAR, odometer=Measure(143_500, "km"))
    assert twin(FIRST, other(days=9)) is None
    assert twin(FIRST, other(car=later)) is None
    assert twin(FIRST, other(comeback_of="a")) is None


def test_two_cars_of_one_model_with_one_fault_on_one_day_are_two_visits():
    unread = replace(CAR, odometer=None)
    assert twin(FIRST, other(car=unread, text="one click only, will not crank")) is None
    assert twin(FIRST, other(car=replace(unread, year=2013))) is None
    assert twin(replace(FIRST, complaint=Complaint(TEXT, unread)), other(car=unread)) is not None


def test_another_cause_or_another_plate_is_another_visit():
    assert twin(FIRST, other(cause="charging.alternator.worn")) is None
    plates = (replace(CAR, vin=f"1G4AH59H45G11834{n}") for n in (1, 2))
    one, two = (replace(FIRST, complaint=Complaint(TEXT, car)) for car in plates)
    assert twin(one, replace(two, id="b")) is None


def test_miles_and_kilometres_of_one_car_agree():
    assert twin(FIRST, other(car=replace(CAR, odometer=Measure(87_613, "mi")))) is not None


@given(st.sampled_from(MADE), st.sampled_from(MADE), st.integers(0, 6))
@settings(max_examples=60)
def test_being_twins_is_mutual_and_no_case_is_its_own(one, two, days):
    moved = replace(two, opened=DAY + timedelta(days=days))
    a, b = twin(replace(one, opened=DAY), moved), twin(moved, replace(one, opened=DAY))
    assert (a is None) == (b is None)
    assert twin(one, one) is None
    assert bare(one) == bare(replace(one, id="zzz"))


def test_visits_find_what_comparing_all_with_all_finds():
    cases = [replace(case, id=f"{n}", opened=DAY + timedelta(days=n % 5)) for n, case in enumerate(MADE)]
    cases += [replace(case, id=f"again-{case.id}") for case in cases[::3]]
    visits = Visits(cases)
    for case in cases:
        slow = {each.case.id for two in cases if (each := twin(case, two)) is not None}
        assert {each.case.id for each in visits.twins(case)} == slow
    assert any(visits.twins(case) for case in cases)
