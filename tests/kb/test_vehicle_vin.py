"""A VIN fills what is empty, marked as such, and never overrides what was typed.

Numbers are the worked example of 49 CFR 565.15 (Table VI), whole or with signs changed.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.errors import MalformedVin
from baylore_kb.values import Vehicle
from baylore_kb.vehicle import filled_by_vin, nearness, vin_says
from baylore_kb.vehicle.vin_says import without_old_vin
from baylore_kb.vin import check_digit, makers

EXAMPLE = "1G4AH59H45G118341"
VINS = st.text("0123456789ABCDEFGHJKLMNPRSTUVWXYZ", min_size=17, max_size=17).map(
    lambda vin: vin[:8] + check_digit(vin) + vin[9:]
)


def changed(place, sign):
    """The example with one sign changed and its check digit put right."""
    vin = EXAMPLE[: place - 1] + sign + EXAMPLE[place:]
    return vin[:8] + check_digit(vin) + vin[9:]


def test_empty_fields_are_filled_and_marked():
    car = filled_by_vin(Vehicle(vin=EXAMPLE.lower(), model="Linnet"), this_year=2026)
    assert (car.year, car.make, car.vin) == (2005, makers(EXAMPLE)[0], EXAMPLE)
    assert car.from_vin == {"year", "make"}
    assert filled_by_vin(car, this_year=2026) == car


def test_what_was_typed_stays_and_the_disagreement_is_said():
    car = filled_by_vin(Vehicle(2004, "Tarrow", vin=EXAMPLE), this_year=2026)
    assert (car.year, car.make, car.from_vin) == (2004, "Tarrow", frozenset())
    assert vin_says(car, this_year=2026).against == (
        "VIN says 2005, typed 2004",
        f"VIN says maker {' or '.join(makers(EXAMPLE))}, typed Tarrow",
    )


def test_a_year_still_to_come_cannot_be_so_the_other_cycle_is_meant():
    vin = changed(7, "A")
    assert vin_says(Vehicle(vin=vin)).year == 2035
    told = vin_says(Vehicle(vin=vin), this_year=2026)
    assert (told.year, told.year_note) == (2005, "")


def test_where_both_cycles_can_be_the_other_is_said_for_heavy_trucks_and_motorcycles():
    vin = changed(10, "B")
    told = vin_says(Vehicle(vin=vin), this_year=2026)
    assert told.year == 1981
    assert told.year_note == "2011 on a heavy truck or a motorcycle"


def test_outside_north_america_the_year_is_a_guess_and_fills_nothing():
    car = filled_by_vin(Vehicle(vin=f"W{EXAMPLE[1:]}"), this_year=2026)
    assert car.year is None
    assert "guess" in vin_says(car, this_year=2026).year_note


def test_what_an_old_vin_filled_in_goes_with_it():
    before = filled_by_vin(Vehicle(vin=EXAMPLE), this_year=2026)
    without = without_old_vin(before, Vehicle(before.year, before.make, from_vin=before.from_vin))
    assert without == Vehicle()
    typed_over = Vehicle(2003, before.make, vin=None, from_vin=before.from_vin)
    assert without_old_vin(before, typed_over).year == 2003


def test_the_very_car_is_nearest_whatever_was_typed_of_it():
    assert nearness(Vehicle(2004, "Tarrow", vin=EXAMPLE), Vehicle(vin=EXAMPLE)).why == "the same car"


@pytest.mark.parametrize(
    ("vin", "says"),
    [
        (EXAMPLE[:8] + "A" + EXAMPLE[9:], "character 9 is 'A'"),
        (EXAMPLE[:9] + "U" + EXAMPLE[10:], "character 10 is 'U'"),
        (EXAMPLE[:15] + "S" + EXAMPLE[16:], "character 16 is 'S'"),
    ],
)
def test_a_broken_number_is_refused_by_the_rule_of_its_place_with_a_way_out(vin, says):
    with pytest.raises(MalformedVin, match=says) as refused:
        filled_by_vin(Vehicle(vin=vin))
    assert "leave the VIN out" in refused.value.remedy


def test_the_one_misread_sign_that_would_make_it_right_is_named():
    with pytest.raises(MalformedVin) as refused:
        filled_by_vin(Vehicle(vin=EXAMPLE[:16] + "L"))
    assert "character 17 may be 1, then it is right" in refused.value.remedy


@given(VINS, st.none() | st.integers(1980, 2027), st.sampled_from(["", "Tarrow"]))
def test_no_vin_changes_a_typed_field(vin, year, make):
    car = filled_by_vin(Vehicle(year, make, vin=vin), this_year=2026)
    assert year in (None, car.year)
    assert make in ("", car.make)
    assert car.from_vin <= {"year", "make"}
    assert all(getattr(car, name) for name in car.from_vin)
