"""Recurring failures: counts against the expected, and what a shop cannot know."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st
from msgspec import to_builtins

from baylore_kb.errors import UnknownGrouping
from baylore_kb.recurrence import Asked, Book, read, recurrences, row_by_month
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Correction, Cost, Labour, Measure, Vehicle

START = datetime(2025, 1, 6, 9, tzinfo=UTC)
CAUSES = ["aircon.condenser.leaking", "charging.battery.weak", "brakes.pad.worn", "fuel.pump.worn"]


def case(number, model, cause, *, day=None, km=None, back=None, **more):
    odometer = None if km is None else Measure(km, "km")
    vehicle = Vehicle(make="Tarrow", model=model, odometer=odometer)
    opened = START + timedelta(days=number if day is None else day)
    return Case(
        f"c{number:03d}",
        Complaint("made up", vehicle),
        state="closed",
        cause=cause,
        opened=opened,
        comeback_of=back,
        **more,
    )


def mixed(count=160):
    """Every model with every cause alike."""
    models = "Linnet", "Wren", "Tern", "Sable"
    return [case(n, models[n % 4], CAUSES[(n // 4) % 4]) for n in range(count)]


def plagued(extra=30):
    return mixed() + [case(200 + n, "Linnet", CAUSES[0]) for n in range(extra)]


def test_names_asked_of_a_book_without_cases_give_no_rows():
    empty = Book(("model", "system"), load())
    assert read(empty, Asked(only={"system": "heating"})).rows == ()


def row(found, **key):
    return next(one for one in found.rows if dict(one.key) == key)


def test_a_failure_of_one_model_stands_out_and_comes_first():
    found = recurrences(plagued(), by=("model", "system"))
    first = found.rows[0]
    assert dict(first.key) == {"model": "Tarrow Linnet", "system": "aircon"}
    assert first.signal == "signal"
    assert first.observed == 40
    assert first.low > 1 and first.observed > first.expected


def test_an_even_mix_raises_no_signal():
    found = recurrences(mixed(), by=("model", "system"))
    assert {one.signal for one in found.rows} == {"none"}
    assert all(one.expected == pytest.approx(10) for one in found.rows)


def test_two_cases_never_raise_a_signal():
    rare = [*mixed(), case(300, "Calla", CAUSES[3]), case(301, "Calla", CAUSES[3])]
    found = row(recurrences(rare, by=("model", "system")), model="Tarrow Calla", system="fuel")
    assert (found.observed, found.signal) == (2, "none")


def test_the_same_fault_coming_back_on_a_car_is_counted_as_a_comeback():
    first, again = case(1, "Wren", CAUSES[2]), case(2, "Wren", CAUSES[2], back="c001")
    found = recurrences([first, again], by=("model", "cause"), min_cases=1)
    assert (found.rows[0].observed, found.rows[0].comebacks, found.rows[0].cases) == (1, 1, ("c001",))


def test_a_return_with_another_fault_is_counted_by_itself():
    first, other = case(1, "Wren", CAUSES[2]), case(2, "Wren", CAUSES[1], back="c001")
    found = recurrences([first, other], by=("model", "cause"), min_cases=1)
    assert [one.observed for one in found.rows] == [1, 1]


def test_a_row_tells_dates_medians_and_odometer_quartiles():
    held = [
        case(n, "Wren", CAUSES[1], km=1000 * km, labour=Labour(20, 10 * n), cost=Cost(labour=100 * n))
        for n, km in enumerate((90, 100, 120, 150, 200), start=1)
    ]
    (found,) = recurrences(held, by=("model", "component")).rows
    assert (found.first, found.last) == (START + timedelta(days=1), START + timedelta(days=5))
    assert (found.median_minutes, found.median_cost) == (50, 300)
    assert found.odometer_km == (100_000, 120_000, 150_000)
    assert found.title == "Tarrow Wren, 12 V battery"


def test_dates_bound_the_cases_with_the_start_included_and_the_end_not():
    found = recurrences(
        mixed(10), since=START + timedelta(days=2), until=datetime(2025, 1, 11, 9), min_cases=1
    )
    assert found.cases == 3


def test_without_the_model_nothing_is_expected_and_the_notes_say_so():
    found = recurrences(mixed(), by=("system",))
    assert {one.expected for one in found.rows} == {None}
    assert any("need the model" in note for note in found.notes)


def test_the_notes_say_what_a_shop_cannot_know_and_what_was_left_out():
    nameless = case(300, "", CAUSES[0])
    found = recurrences([*mixed(20), nameless], by=("model", "system"))
    text = " ".join(found.notes)
    assert "what share of these cars fails" in text
    assert "1 closed cases are left out because model or system is not known" in text
    assert "Only 20 closed cases" in text


def test_open_cases_are_not_failures_yet():
    waiting = Case("c900", Complaint("made up", Vehicle(make="Tarrow", model="Wren")))
    assert recurrences([waiting]).rows == ()


def test_an_own_cause_is_grouped_by_the_system_it_was_given():
    own = case(1, "Wren", "own.mouse nest", cause_system="aircon", cause_title="Mouse nest in the duct")
    repaired = case(2, "Wren", "own.chewed lead", correction=Correction("replace", "charging.control_wire"))
    keys = [dict(one.key)["system"] for one in recurrences([own, repaired], by=("system",), min_cases=1).rows]
    assert sorted(keys) == ["aircon", "charging"]


@pytest.mark.parametrize("by", [("colour",), (), ("model", "model")])
def test_a_grouping_that_cannot_be_is_refused_with_the_possible_ones(by):
    with pytest.raises(UnknownGrouping) as refused:
        recurrences([], by=by)
    assert "make, model, year" in refused.value.remedy and "component, cause" in refused.value.remedy


SEEN = st.lists(
    st.tuples(st.sampled_from("ABCDEF"), st.sampled_from(CAUSES), st.integers(0, 900)), max_size=60
)


@given(SEEN)
def test_expected_and_observed_agree_over_all_models(seen):
    cases = [case(n, model, cause, day=day) for n, (model, cause, day) in enumerate(seen)]
    found = recurrences(cases, by=("model", "cause"), min_cases=1)
    assert sum(one.observed for one in found.rows) == len(seen) == found.cases
    assert sum(one.expected for one in found.rows) <= len(seen) + 1e-6
    assert all(one.low < one.ratio < one.high for one in found.rows)


def reported(cases, **asked):
    return recurrences(cases, by=("model", "system"), **asked)


def figures(n):
    """Odometer, minutes and cost of some cases, alike in several."""
    known = {"km": 1000.0 * (n % 7), "labour": Labour(10.0 * (n % 3), 5.0), "cost": Cost(parts=0.1 * (n % 4))}
    return known if n % 4 else {"returned_as": (f"c{n + 1:03d}",)}


@given(SEEN, st.randoms())
def test_a_book_kept_case_by_case_equals_one_made_at_once(seen, order):
    cases = [
        case(n, model, cause, day=day, back=f"c{n - 1:03d}" if n % 5 == 1 else None, **figures(n))
        for n, (model, cause, day) in enumerate(seen)
    ]
    book = Book(("model", "system"), load())
    for one in order.sample(cases, len(cases)):
        book.put(one)
        if order.random() < 0.2:
            read(book, Asked(min_cases=1))
    for one in cases[::3]:
        book.drop(one.id)
        book.put(one)
    assert read(book) == reported(cases)
    filled = Book(("model", "system"), load())
    filled.fill(cases)
    assert read(filled) == reported(cases)


@pytest.mark.parametrize("seed", range(6))
def test_a_busy_book_read_between_its_changes_reads_as_a_fresh_one(seed):
    book, held, luck = Book(("model", "system"), load()), dict[int, Case](), Random(seed)
    for step in range(400):
        n = luck.randrange(150)
        held[n] = busy(n, luck)
        book.put(held[n])
        if luck.random() < 0.2:
            gone = luck.choice(list(held))
            book.drop(held.pop(gone).id)
        if step % 7 == 0:
            read(book, Asked(1, limit=luck.choice([None, 3])))
    fresh = reported(list(held.values()))
    assert told(read(book)) == told(fresh)
    assert any(row.trend for row in fresh.rows) and any(row.since for row in fresh.rows)


def told(found):
    """Each row as the service writes it, but for what sums in another order leave in the last places."""
    rows = to_builtins(found.rows, builtin_types=(datetime,))
    return [{name: rounded(value) for name, value in row.items()} for row in rows]


def rounded(value):
    if isinstance(value, dict):
        return {name: rounded(each) for name, each in value.items()}
    return float(f"{value:.9g}") if isinstance(value, float) else value


def busy(n, luck):
    """A case of any month of two years, of few cars and causes, so that each row has many."""
    model, cause = luck.choice("AB"), luck.choice(CAUSES[:3])
    late = 500 if (model, cause) == ("A", CAUSES[0]) else 0
    return case(n, model, cause, day=luck.randrange(late, 730), **figures(luck.randrange(9)))


@given(st.lists(st.tuples(st.sampled_from("ABC"), st.sampled_from(CAUSES), st.integers(0, 900)), min_size=1))
def test_a_row_asked_for_by_itself_equals_the_one_in_the_list(seen):
    cases = [case(n, model, cause, day=day) for n, (model, cause, day) in enumerate(seen)]
    book, asked = Book(("model", "system"), load()), Asked(min_cases=1)
    book.fill(cases)
    for one in read(book, asked).rows:
        alone, months = row_by_month(book, tuple(one.key.values()), asked)
        assert alone == one
        assert sum(months.counts) == one.observed == len(one.cases)
        assert sum(months.expected) == pytest.approx(one.expected)


def test_a_case_that_is_opened_again_is_counted_no_more():
    book = Book(("model", "system"), load())
    book.put(case(1, "Wren", CAUSES[1]))
    book.put(replace(case(1, "Wren", CAUSES[1]), state="open"))
    assert read(book, Asked(min_cases=1)).rows == () and book.groups == {}


def test_all_things_of_the_car_and_the_failure_can_be_counted_by():
    held = [
        replace(
            case(n, "Wren", CAUSES[n % 2], km=70_000 + 30_000 * (n % 2)),
            complaint=Complaint(
                "made up",
                Vehicle(
                    2010 + n % 3,
                    "Tarrow",
                    "Wren",
                    "1.6 petrol",
                    odometer=Measure(70_000 + 30_000 * (n % 2), "km"),
                ),
            ),
        )
        for n in range(24)
    ]
    found = recurrences(held, by=("make", "year", "engine", "season", "odometer", "component"), min_cases=1)
    first = dict(found.rows[0].key)
    assert first["make"] == "Tarrow" and first["engine"] == "1.6 petrol" and first["season"] == "Dec-Feb"
    assert {dict(one.key)["odometer"] for one in found.rows} == {"0-80", "80-160"}
    assert sum(one.observed for one in found.rows) == 24


def test_a_failure_that_began_in_summer_is_dated_and_its_rise_is_told():
    calm = [case(n, ("Wren", "Tern")[n % 2], CAUSES[n % 4], day=3 * n) for n in range(240)]
    wave = [case(500 + n, "Linnet", CAUSES[0], day=420 + 6 * n) for n in range(40)]
    found = row(reported([*calm, *wave]), model="Tarrow Linnet", system="aircon")
    assert found.since.earliest <= found.since.month <= found.since.latest
    assert found.since.month == "2026-03" and found.since.times > 2
    assert found.trend.rising and found.q < 0.1


def test_first_visit_cures_count_only_what_had_time_to_come_back():
    held = [case(n, "Wren", CAUSES[1], closed=START + timedelta(days=10 * n)) for n in range(8)]
    held[2] = replace(held[2], returned_as=("later",))
    found = row(reported(held, now=START + timedelta(days=65)), model="Tarrow Wren", system="charging")
    assert (found.first_cured.count, found.first_cured.of) == (3, 4)
    assert found.first_cured.low < 0.75 < found.first_cured.high


def test_neutral_visits_give_a_rate_and_the_notes_say_so():
    found = reported(plagued(), visits={"tarrow linnet": 200})
    linnet = row(found, model="Tarrow Linnet", system="aircon")
    assert linnet.per_visits.per_100 == 20 and linnet.per_visits.low < 20 < linnet.per_visits.high
    assert row(found, model="Tarrow Wren", system="aircon").per_visits is None
    assert "per 100 recorded visits" in found.notes[0]
