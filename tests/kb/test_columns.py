"""Cases counted all at once as columns give the same as cases counted one by one, however messy they are."""

from datetime import UTC, datetime, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.recurrence import BY, Asked, Book, read
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Correction, Measure, Vehicle

TRADE = load()
LISTED = tuple(TRADE.causes)[:5]
EAST = timezone(timedelta(hours=11))
WHENS = st.sampled_from(
    [
        None,
        datetime(2024, 1, 1, 5, tzinfo=EAST),
        datetime(2024, 1, 1, 5, tzinfo=UTC),
        datetime(2023, 7, 9, 12),
        datetime(2025, 2, 28, tzinfo=UTC),
    ]
)
ODOMETERS = st.sampled_from(
    [None, Measure(79_999.0, "km"), Measure(50_000.0, "mi"), Measure(900_000.0, "km"), Measure(3.0, "V")]
)


@st.composite
def messy(draw, number):
    """A closed case, or one that counts for nothing, with anything missing."""
    vehicle = Vehicle(
        draw(st.sampled_from([None, 2010, 2011])),
        draw(st.sampled_from(["", "Tarrow"])),
        draw(st.sampled_from(["", "Wren", "Linnet"])),
        draw(st.sampled_from(["", "1.6"])),
        odometer=draw(ODOMETERS),
    )
    return Case(
        f"c{number:03d}",
        Complaint("made up", vehicle),
        state=draw(st.sampled_from(["closed", "closed", "closed", "open"])),
        cause=draw(st.sampled_from([None, *LISTED, "own.mouse"])),
        cause_system=draw(st.sampled_from([None, "aircon"])),
        correction=draw(st.sampled_from([None, Correction("replace", "charging.control_wire")])),
        opened=draw(WHENS),
        comeback_of=f"c{number - 1:03d}" if number % 4 == 3 else None,
    )


@st.composite
def shops(draw):
    """A few such cases."""
    return [draw(messy(number)) for number in range(draw(st.integers(0, 14)))]


def months(book):
    """From when on, and how many in each month."""
    return book.traffic.start, book.traffic.shop.tolist()


@given(shops(), st.lists(st.sampled_from(BY), min_size=1, max_size=4, unique=True))
def test_any_grouping_filled_at_once_equals_one_kept_case_by_case(cases, by):
    at_once, one_by_one = Book(by, TRADE), Book(by, TRADE)
    at_once.fill(cases)
    for case in cases:
        one_by_one.put(case)
    assert read(at_once, Asked(min_cases=1)) == read(one_by_one, Asked(min_cases=1))
    assert (at_once.incomplete, at_once.undated) == (one_by_one.incomplete, one_by_one.undated)
    assert at_once.single == one_by_one.single
    assert months(at_once) == months(one_by_one)


@given(shops(), shops())
def test_a_filled_book_takes_changes_as_one_that_was_kept(before, after):
    filled, fresh = Book(("model", "cause"), TRADE), Book(("model", "cause"), TRADE)
    filled.fill(before)
    for case in before[len(after) :]:
        filled.drop(case.id)
    for case in after:
        filled.put(case)
    fresh.fill(after)
    assert read(filled, Asked(min_cases=1)) == read(fresh, Asked(min_cases=1))


@pytest.mark.parametrize("km, band", [(0.0, "0-80"), (80_000.0, "80-160"), (399_999.0, "320-400")])
def test_a_band_of_many_is_the_band_of_one(km, band):
    book = Book(("model", "odometer"), TRADE)
    vehicle = Vehicle(2010, "Tarrow", "Wren", odometer=Measure(km, "km"))
    book.fill([Case("a", Complaint("made up", vehicle), state="closed", cause=LISTED[0])])
    assert list(book.groups) == [("Tarrow Wren", band)]
