"""Makes and models are known by the shop's own names: spelling, short forms, initials and slips."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.seldom import seldom
from baylore_kb.values import Vehicle
from baylore_kb.vehicle import Cars, known_name, name_key
from baylore_kb.vehicle.names import same_make

MAKES = ("Tarrow", "Long Vale", "Kestervane", "Ondrey")
CARS = Cars.of(
    [
        Vehicle(2009, "Tarrow", "Linnet", "1.6 petrol"),
        Vehicle(2010, "Tarrow", "Linnet", "1.6 petrol"),
        Vehicle(2010, "Tarrow", "Linnet", "2.0 diesel"),
        Vehicle(2018, "Tarrow", "Linnet", "1.2 turbo"),
        Vehicle(2011, "Ondrey", "Calla", "1.4"),
        Vehicle(2008, "Kestervane", "Pike 2"),
        Vehicle(2009, "Kestervane", "Marl"),
        Vehicle(2009, "KV", "Marl"),
        Vehicle(2007, "Long Vale", "Fell"),
    ]
)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("tarrow", "Tarrow"),
        ("TAR-ROW", "Tarrow"),
        ("Tarow", "Tarrow"),
        ("Tarr", "Tarrow"),
        ("Tarry", "Tarrow"),
        ("LV", "Long Vale"),
        ("long", "Long Vale"),
        ("Kester", "Kestervane"),
        ("KV", "Kestervane"),
        ("Kestervane Motors", "Kestervane"),
        ("Vostrel", None),
        ("KX", None),
        ("Ta", None),
    ],
)
def test_a_make_is_meant_by_its_letters_short_forms_initials_and_slips(typed, meant):
    assert known_name(typed, MAKES, initials=True) == meant


def test_a_short_form_of_two_names_is_neither():
    assert known_name("Cal", ["Calla", "Calder"]) is None


def test_a_longer_model_is_not_taken_for_the_shorter_one_it_begins_with():
    assert known_name("Linnet Estate", ["Linnet"]) is None


@pytest.mark.parametrize(
    ("one", "other"), [("Pike Two", "pike-2"), ("C Max", "c-max"), ("Mark Three", "mark3")]
)
def test_dashes_blanks_and_number_words_make_no_difference(one, other):
    assert name_key(one) == name_key(other)


def test_initials_of_syllables_count_only_where_the_model_bears_them_out():
    assert CARS.named(Vehicle(None, "KV", "pike two")) == Vehicle(None, "Kestervane", "Pike 2")
    others = Cars.of([Vehicle(2008, "Kestervane", "Pike 2")])
    assert others.named(Vehicle(None, "KV", "Zebra")) == Vehicle(None, "KV", "Zebra")


def test_two_spellings_of_a_make_with_a_model_in_common_are_one_make():
    assert CARS.kind(Vehicle(None, "KV", "Marl")).make == "kestervane"
    apart = Cars.of([Vehicle(None, "Kestervane", "Marl"), Vehicle(None, "KV", "Other")])
    assert apart.kind(Vehicle(None, "KV", "Other")).make == "kv"


def test_a_make_and_a_model_are_as_rare_as_the_cases_of_all_their_spellings():
    assert CARS.rarity(Vehicle(2010, "tarrow", "linnet")) == (seldom(4, 9), seldom(4, 9))
    assert CARS.rarity(Vehicle(None, "KV", "Marl")) == (seldom(3, 9), seldom(2, 9))
    assert CARS.rarity(Vehicle(None, "Vostrel", "")) == (1.0, 1.0)
    assert Cars.of([]).rarity(Vehicle(None, "Tarrow", "Linnet")) == (1.0, 1.0)


def test_a_model_is_looked_for_among_those_of_its_make():
    assert CARS.named(Vehicle(None, "Tarrow", "Cala")).model == "Cala"
    assert CARS.named(Vehicle(None, "", "Cala")).model == "Calla"
    assert CARS.named(Vehicle(None, "Unheard", "linet")).model == "linet"


def test_engines_of_the_very_year_come_first_and_far_years_not_at_all():
    assert CARS.engines(Vehicle(2010, "Tarrow", "linnet")) == ("1.6 petrol", "2.0 diesel")
    assert CARS.engines(Vehicle(2018, "Tarrow", "Linnet")) == ("1.2 turbo",)
    assert set(CARS.engines(Vehicle(model="Linnet"))) == {"1.6 petrol", "2.0 diesel", "1.2 turbo"}
    assert CARS.engines(Vehicle(make="Tarrow")) == ()


@given(st.text(max_size=12), st.text(max_size=12))
def test_whether_two_names_are_of_one_make_is_the_same_both_ways(one, other):
    assert same_make(one, other) == same_make(other, one)
    assert same_make(one, one) == bool(one) or not name_key(one)


@given(st.text(max_size=12), st.lists(st.text(max_size=12), max_size=6))
def test_only_a_name_of_the_shop_is_ever_meant_and_its_own_names_always(typed, names):
    meant = known_name(typed, names, initials=True)
    assert meant is None or meant in names
    assert all(name_key(known_name(name, names) or "") == name_key(name) for name in names)


@given(st.text(max_size=12))
def test_a_shop_without_cars_leaves_a_vehicle_as_typed(text):
    assert Cars.of([]).named(Vehicle(None, text, text)) == Vehicle(None, text, text)
