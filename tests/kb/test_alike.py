"""Two records of one visit are found; two visits, two cars and comebacks are not taken for one."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st
from made_cases import Maker

from baylore_kb.alike import Visits, bare, twin
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Measure, Reading, Vehicle

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


def test_the_same_car_closed_with_the_same_cause_on_one_day_needs_fewer_words():
    told = other(text="will not crank, heard it click once", cause=FIRST.cause)
    found = twin(FIRST, told)
    assert found and "same cause" in found.why and found.alike < 0.92
    assert twin(FIRST, replace(told, cause=None)) is None


def test_another_fault_of_the_same_car_on_one_day_is_no_double():
    assert twin(FIRST, other(text="rear brakes squeal when reversing", cause="brakes.pad.worn")) is None
    assert twin(FIRST, other(text="rear brakes squeal when reversing")) is None


def test_a_car_that_drove_between_two_days_came_back():
    later = replace(CAR, odometer=Measure(141_090, "km"))
    assert twin(FIRST, other(car=later, days=2)) is None
    assert twin(FIRST, other(car=replace(CAR, odometer=Measure(141_003, "km")), days=2)) is not None


def test_a_vin_tells_cars_apart_and_a_slip_in_the_odometer_does_not():
    vin = replace(CAR, vin="1G4AH59H45G118341")
    first = replace(FIRST, complaint=Complaint(TEXT, vin))
    slip = replace(vin, odometer=Measure(14_100, "km"), model="Linet")
    assert twin(first, other(car=slip)) is not None
    closed = replace(first, closed=DAY + timedelta(hours=4))
    unread = replace(vin, odometer=None)
    assert twin(closed, other(car=unread, days=2, text="one click again, no start")) is None


def test_a_slip_in_the_name_is_the_same_car_and_another_model_is_not():
    assert twin(FIRST, other(car=replace(CAR, model="Linent"))) is not None
    assert twin(FIRST, other(car=replace(CAR, model="Wren"))) is None
    two, five = (replace(FIRST, complaint=Complaint(TEXT, replace(CAR, model=f"Calla {n}"))) for n in (2, 5))
    assert twin(two, replace(five, id="b")) is None


def test_what_was_measured_and_the_codes_speak_for_and_against():
    def with_volts(volts, unit="V"):
        return Complaint(TEXT, unread, readings=(Reading("battery_open_circuit_voltage", volts, unit),))

    unread = replace(CAR, odometer=None)
    one, near, far = (replace(FIRST, complaint=with_volts(*v)) for v in ((12.4,), (12_410, "mV"), (11.2,)))
    found = twin(one, replace(near, id="b"))
    assert found and "same readings" in found.why
    assert twin(one, replace(far, id="b")) is None
    coded = replace(FIRST, complaint=Complaint(TEXT, unread, codes=("P0480",)))
    assert (
        twin(coded, replace(coded, id="b", note="x", complaint=replace(coded.complaint, codes=("P0300",))))
        is None
    )


def test_the_same_content_months_later_is_a_double_only_where_the_odometer_stood_still():
    unread = replace(FIRST, complaint=Complaint(TEXT, replace(CAR, odometer=None)))
    months = DAY + timedelta(days=70)
    found = twin(FIRST, replace(FIRST, id="b", opened=months))
    assert found and found.exact and found.why == ("same car", "70 days apart", "the very same")
    assert twin(unread, replace(unread, id="b", opened=months)) is None


def test_a_thousand_records_under_one_key_do_not_hide_the_one_with_the_same_odometer():
    many = [other(car=replace(CAR, odometer=Measure(1_000 + 100 * n, "km"))) for n in range(1000)]
    visits = Visits([FIRST, *(replace(each, id=f"m{n}") for n, each in enumerate(many))])
    found = visits.twins(other(text="one clik, nothing turns, lamps stay bright"))
    assert [each.case.id for each in found] == ["a"]


def test_a_model_spelt_two_ways_is_met_by_the_words():
    unread = replace(CAR, odometer=None, model="Linent")
    first = replace(FIRST, complaint=Complaint(TEXT, replace(CAR, odometer=None)))
    assert [each.case.id for each in Visits([first]).twins(other(car=unread))] == ["a"]


@given(st.text(max_size=60), st.text(max_size=60), st.text(max_size=12), st.text(max_size=12))
@settings(max_examples=100)
def test_any_text_is_compared_and_the_likeness_is_a_share(said, told, model, named):
    one = replace(FIRST, complaint=Complaint(said, replace(CAR, model=model)))
    two = replace(FIRST, id="b", complaint=Complaint(told, replace(CAR, model=named)))
    found, back = twin(one, two), twin(two, one)
    assert (found is None) == (back is None)
    assert found is None or (0.6 <= found.alike <= 1.0 and back and found.alike == back.alike)
    assert found is None or [each.case.id for each in Visits([one]).twins(two)] == ["a"]


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
