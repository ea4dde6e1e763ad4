"""Vehicles are near by model, engine and years, and traits follow from what is written."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.values import Vehicle
from baylore_kb.vehicle import LEVELS, known_name, nearness, traits_of

LINNET = Vehicle(2011, "Tarrow", "Linnet", "1.6 petrol")
VEHICLES = st.builds(
    Vehicle,
    year=st.none() | st.integers(1990, 2026),
    make=st.sampled_from(["", "Tarrow", "Ondrey"]),
    model=st.sampled_from(["", "Linnet", "Calla"]),
    engine=st.sampled_from(["", "1.6 petrol", "1.6", "2.0 diesel", "1998 cc"]),
)


def test_the_same_model_engine_and_years_is_nearest_and_says_so():
    near = nearness(LINNET, Vehicle(2010, "tarrow", "linnet", "1.6"))
    assert (near.level, near.why) == (0.98, "same model, 1 year apart, same engine")


FALLING = (
    (replace(LINNET, vin="1G4AH59H45G118341"), "the same car"),
    (Vehicle(2013, "Tarrow", "Linnet", "1.6"), "same model, 2 years apart, same engine"),
    (Vehicle(2013, "Tarrow", "Linnet"), "same model, 2 years apart"),
    (Vehicle(2009, "Tarrow", "Linnet", "2.0 diesel"), "same model, 2 years apart, other engine"),
    (Vehicle(2011, "Tarrow", "Wren", "1.6 petrol"), "same engine, other model of the make"),
    (Vehicle(2011, "Tarrow", "Wren", "2.0 diesel"), "same make, other model"),
    (Vehicle(), ""),
    (Vehicle(2011, "Ondrey", "Calla", "2.0 diesel"), ""),
)


def test_nearness_falls_from_the_same_car_to_another_and_says_how_near():
    asked = replace(LINNET, vin="1G4AH59H45G118341")
    found = [nearness(asked, other) for other, _ in FALLING]
    assert [near.why for near in found] == [why for _, why in FALLING]
    assert [near.level for near in found] == sorted({near.level for near in found}, reverse=True)


def test_an_engine_of_another_make_is_no_nearer_than_an_unknown_car():
    other = nearness(LINNET, Vehicle(2011, "Ondrey", "Calla", "1.6 petrol"))
    assert (other.level, other.why) == (nearness(LINNET, Vehicle()).level, "same kind of engine, other make")


def test_many_years_apart_counts_less():
    assert (
        nearness(LINNET, Vehicle(1999, "Tarrow", "Linnet")).level
        < nearness(LINNET, Vehicle(2012, "Tarrow", "Linnet")).level
    )


def test_an_unknown_vehicle_has_no_reason():
    assert nearness(LINNET, Vehicle()).why == ""


@given(VEHICLES, VEHICLES)
def test_nearness_is_the_same_both_ways_and_inside_its_range(a, b):
    near = nearness(a, b)
    assert near == nearness(b, a)
    assert 0.0 <= near.level <= 1.0
    assert all(0.0 <= step <= 1.0 for step in near.steps)
    assert list(near.steps[:4]) == sorted(near.steps[:4], reverse=True)


@given(VEHICLES, VEHICLES, st.lists(st.floats(0, 5), min_size=len(LEVELS), max_size=len(LEVELS)))
def test_whatever_the_steps_are_worth_the_same_car_is_never_further_than_another(a, b, worth):
    def counted(near):
        return sum(step * each for step, each in zip(near.steps, worth, strict=True))

    assert counted(nearness(a, b)) <= counted(nearness(replace(a, vin="v"), replace(a, vin="v")))
    if a.year and a.engine and a.model and a.make:
        assert counted(nearness(a, b)) <= counted(nearness(a, a))
        bare = replace(a, model="Other")
        assert counted(nearness(a, bare)) <= counted(nearness(a, a))


@pytest.mark.parametrize(
    ("typed", "known"), [("linnet", "Linnet"), ("Linet", "Linnet"), ("LINNET ", "Linnet")]
)
def test_a_slip_in_the_model_finds_the_shops_own(typed, known):
    assert known_name(typed, ["Linnet", "Wren"]) == known


@pytest.mark.parametrize("typed", ["X3", "Q5", "Sparrow", ""])
def test_another_model_is_not_taken_for_one_of_the_shops(typed):
    assert known_name(typed, ["X5", "Linnet"]) is None


@pytest.mark.parametrize(
    ("engine", "gearbox", "there", "gone"),
    [
        ("1.6 petrol", "", {"petrol", "combustion"}, {"diesel", "high_voltage"}),
        ("2.0 diesel turbo", "six-speed manual", {"diesel", "boosted", "manual"}, {"petrol", "automatic"}),
        ("1.8 hybrid", "", {"high_voltage", "combustion"}, set()),
        ("electric 64 kWh", "", {"high_voltage"}, {"combustion", "petrol"}),
        ("", "four-speed automatic", {"automatic"}, {"manual"}),
        ("", "", set(), set()),
    ],
)
def test_traits_follow_from_engine_and_gearbox(engine, gearbox, there, gone):
    present, absent = traits_of(Vehicle(engine=engine, transmission=gearbox))
    assert there <= present
    assert gone <= absent


def test_what_the_description_does_not_say_stays_unknown():
    present, absent = traits_of(Vehicle(engine="1.6 petrol"))
    assert "port_injection" not in present | absent


@given(VEHICLES, st.frozensets(st.sampled_from(["petrol", "diesel", "manual", "high_voltage", "plug_in"])))
def test_no_trait_is_both_there_and_gone(vehicle, given_traits):
    present, absent = traits_of(Vehicle(engine=vehicle.engine, traits=given_traits))
    assert not present & absent
    assert given_traits <= present
