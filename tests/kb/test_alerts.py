"""What the manager hears of unasked, and what not."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from baylore_kb.alerts import failing_sources, returning, rising, signals
from baylore_kb.parts import part_outcomes
from baylore_kb.recurrence import Book
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Correction, PartTried, Terms, Vehicle

START = datetime(2024, 1, 10, tzinfo=UTC)
CAUSES = ["aircon.condenser.leaking", "charging.battery.weak", "brakes.pad.worn", "fuel.pump.worn"]
MODELS = ["Linnet", "Wren", "Tern", "Sable", "Calla"]
LAST = 2025 * 12 + 11


def case(id, model, cause, day, **more):
    vehicle = Vehicle(make="Tarrow", model=model)
    opened = START + timedelta(days=day)
    return Case(id, Complaint("made up", vehicle), state="closed", cause=cause, opened=opened, **more)


def even(days=720):
    return [case(f"e{n}", MODELS[n % 5], CAUSES[(n // 5) % 4], n * days / 400) for n in range(400)]


def burst(count=12, start=600):
    return [case(f"b{n}", "Linnet", CAUSES[0], start + 8 * n) for n in range(count)]


def book(cases):
    found = Book(("model", "system"), load())
    for one in cases:
        found.put(one)
    return found


def test_an_even_shop_raises_nothing():
    assert list(signals(book(even()), LAST)) == [] == list(rising(book(even()), LAST))


def test_a_burst_on_one_model_is_told_with_its_cases_and_figures():
    (alert,) = signals(book([*even(), *burst()]), LAST)
    assert alert.key == {"model": "Tarrow Linnet", "system": "aircon"}
    assert alert.subject == "signal/model=Tarrow Linnet/system=aircon"
    assert alert.figures["observed"] >= 12 and alert.figures["expected"] < 6
    assert {f"b{n}" for n in range(12)} <= set(alert.cases) and "were to be expected" in alert.says


def test_too_few_cases_raise_nothing_whatever_they_are():
    assert list(signals(book(burst(40)), LAST)) == []


def test_a_slow_rise_is_told_unless_the_pair_was_told_of_already():
    slow = [case(f"s{n}", "Linnet", CAUSES[1], 380 + 5 * n) for n in range(65)]
    held = book([*even(), *slow])
    found = list(rising(held, LAST))
    assert found and all(one.kind == "trend" and "rises" in one.says for one in found)
    told = [one.subject.replace("trend/", "signal/") for one in found]
    assert list(rising(held, LAST, besides=told)) == []


def fitted(n, source, result):
    part = PartTried("cooling.fan_motor", source, result, 60.0)
    found = case(f"p{n}", "Wren", "cooling.fan_motor.worn", n)
    return replace(found, complaint=replace(found.complaint, parts=(part,)))


def test_a_source_that_fails_more_than_the_shops_parts_is_told():
    good = [fitted(n, "maker", "cured") for n in range(30)]
    bad = [fitted(100 + n, "aftermarket", "failed later") for n in range(6)]
    (alert,) = failing_sources(part_outcomes([*good, *bad], terms=Terms(), trade=load()), load())
    assert (alert.subject, alert.level) == ("source/component=cooling.fan_motor/source=aftermarket", 6)
    assert "6 of 6 fitted" in alert.says
    assert list(failing_sources(part_outcomes(good, terms=Terms(), trade=load()), load())) == []


def test_two_failures_of_a_source_are_not_told_yet():
    good = [fitted(n, "maker", "cured") for n in range(30)]
    bad = [fitted(100 + n, "used", "no change") for n in range(2)]
    assert list(failing_sources(part_outcomes([*good, *bad], terms=Terms(), trade=load()), load())) == []


def test_comebacks_of_one_correction_are_told_with_those_cases():
    clean = Correction("clean", "charging.battery")
    held = [case(f"g{n}", "Wren", CAUSES[n % 4], n) for n in range(60)]
    back = [case(f"r{n}", "Wren", CAUSES[1], n, correction=clean, returned_as=("x",)) for n in range(5)]
    (alert,) = returning([*held, *back], load())
    assert alert.subject == f"comebacks/cause={CAUSES[1]}/action=clean"
    assert alert.cases == tuple(f"r{n}" for n in range(5)) and "5 of 5 came back" in alert.says
    assert list(returning(held, load())) == []
