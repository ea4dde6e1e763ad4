"""A car named in the words is read where nothing is typed, said as read, and never against what is typed."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, ReadAs, Vehicle
from baylore_kb.vehicle import Cars, car_known
from baylore_kb.vehicle.said import Said, car_said

KINDS = (
    Vehicle(2009, "Tarrow", "Linnet", "1.6 petrol"),
    Vehicle(2011, "Tarrow", "Wren", "2.0 diesel"),
    Vehicle(2010, "Ondrey", "Calla Estate", "1.4"),
    Vehicle(2008, "Kestervane", "Pike 2"),
    Vehicle(2007, "Long Vale", "Fell"),
)
CARS = Cars.of(KINDS)
ORDINARY = frozenset(("fell", "off", "car", "wont", "start", "battery", "replaced", "leak"))
SHOP = Snapshot.build(
    [Case(f"c{n}", Complaint("belt squeal", kind), "closed", cause="own.x") for n, kind in enumerate(KINDS)],
    trade=load(),
)


def said(text):
    return car_said(text, CARS, ordinary=ORDINARY.__contains__)


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("09 tarrow linnet 1.6 wont start", Said("09 tarrow linnet 1.6", 2009, "Tarrow", "Linnet", "1.6")),
        (
            "2009 tarow linet 1.6 petrol",
            Said("2009 tarow linet 1.6 petrol", 2009, "Tarrow", "Linnet", "1.6 petrol"),
        ),
        ("the linnet is dead", Said("linnet", None, "Tarrow", "Linnet")),
        ("has a Tarrow-Linnet, 2010", Said("Tarrow-Linnet, 2010", 2010, "Tarrow", "Linnet")),
        ("11 KV pike two rattles", Said("11 KV pike two", 2011, "Kestervane", "Pike 2")),
        ("'98 tarrow", Said("'98 tarrow", 1998, "Tarrow")),
        ("2012 long vale fell no heat", Said("2012 long vale fell", 2012, "Long Vale", "Fell")),
        ("calla estate wipers", Said("calla estate", None, "Ondrey", "Calla Estate")),
        ("2014 zebra squeaks", Said("2014", 2014)),
    ],
)
def test_year_make_model_and_engine_are_read_from_the_words(text, read):
    assert said(text) == read


@pytest.mark.parametrize(
    "text",
    [
        "",
        "wheel fell off",
        "ac 2012 psi",
        "2010 battery replaced",
        "12.4 v at idle",
        "battery replaced in 2019",
    ],
)
def test_ordinary_words_and_other_numbers_are_no_car(text):
    assert said(text) is None


def test_a_measure_after_the_name_is_neither_year_nor_engine():
    assert said("tarrow linnet 2.4 bar") == Said("tarrow linnet", None, "Tarrow", "Linnet")
    assert said("tarrow linnet 2000 rpm") == Said("tarrow linnet", None, "Tarrow", "Linnet")


def known(typed, text):
    return car_known(typed, text, CARS, ordinary=ORDINARY.__contains__)


def test_what_the_words_fill_is_marked_and_said():
    car = known(Vehicle(), "09 tarow linnet wont start")
    assert (car.vehicle.year, car.vehicle.make, car.vehicle.model) == (2009, "Tarrow", "Linnet")
    assert set(car.origins.values()) == {"words"} and len(car.origins) == 3
    assert [(each.typed, each.read) for each in car.read_as] == [("09 tarow linnet", "2009 Tarrow Linnet")]


def test_typed_fields_stay_and_words_of_another_car_fill_nothing():
    typed = Vehicle(2012, "Ondrey")
    assert known(typed, "not the 09 tarrow linnet").vehicle == typed
    mixed = known(Vehicle(2012, "Tarrow"), "09 linnet wont start")
    assert (mixed.vehicle.year, mixed.vehicle.model) == (2012, "Linnet")
    assert mixed.origins == {"year": "typed", "make": "typed", "model": "words"}


def test_a_name_read_otherwise_than_typed_is_said():
    car = known(Vehicle(None, "Tarow", "linnet"), "")
    assert car.vehicle.make == "Tarrow"
    assert [(each.typed, each.read) for each in car.read_as] == [("Tarow", "Tarrow")]


def test_what_the_member_says_is_right_as_typed_is_read_as_no_car():
    text = "09 tarow linnet wont start"
    asked = Complaint(text, Vehicle(engine="1.6"), as_typed=("09 Tarow linnet",))
    assert understand(asked, SHOP).car.vehicle == Vehicle(engine="1.6")
    named = Complaint("", Vehicle(None, "Tarow", "linet"), as_typed=("tarow",))
    assert understand(named, SHOP).car.vehicle.make == "Tarow"


def test_the_words_of_a_car_are_never_mended_into_others():
    question = understand(Complaint("09 tarrow linnet wont start"), SHOP)
    assert [each for each in question.read_as if each.typed in ("tarrow", "linnet")] == []
    assert "tarrow linnet" in question.mended
    assert question.car.vehicle.model == "Linnet"


def test_the_question_says_what_it_read():
    question = understand(Complaint("09 tarrow linet wont start"), SHOP)
    assert ReadAs("09 tarrow linet", "2009 Tarrow Linnet", "car") in question.read_as


@given(st.text(max_size=80), st.integers(0, len(KINDS) - 1))
@settings(max_examples=60)
def test_any_text_is_read_without_error_and_only_as_cars_of_the_shop(noise, place):
    kind = KINDS[place]
    for text in (noise, f"{noise} . 2009 {kind.make} {kind.model} . {noise}"):
        read = said(text)
        assert read is None or read.make in {"", *(each.make for each in KINDS)}
        assert read is None or read.typed in text
