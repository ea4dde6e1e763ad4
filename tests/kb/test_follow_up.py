"""Whom to ask after two weeks later, and what the season ahead asks for."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.office import Costs, cures, follow_ups, lacks, season
from baylore_kb.recurrence import Asked, recurrences
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Correction, Labour, Measure, PartTried, Vehicle

NOW = datetime(2026, 6, 1, tzinfo=UTC)
TRADE = load()
FAN, PUMP = "cooling.fan_motor.worn", "fuel.pump.worn"


def case(n, cause=FAN, *, ago=20.0, parts=(), **more):
    when = NOW - timedelta(days=ago)
    complaint = Complaint("made up", Vehicle(make="Tarrow", model="Linnet"), parts=tuple(parts))
    return Case(f"c{n:03d}", complaint, state="closed", cause=cause, opened=when, closed=when, **more)


def due(cases, **more):
    return follow_ups(cases, now=NOW, trade=TRADE, **more)


def test_jobs_of_two_weeks_to_two_months_ago_are_asked_after():
    held = [case(n, ago=ago) for n, ago in enumerate((3.0, 13.9, 14.0, 40.0, 61.0))]
    assert [row.case for row in due(held)] == ["c003", "c002"]
    assert due([]) == ()


def test_a_cause_that_often_comes_back_and_an_unproved_cure_come_first_and_say_why():
    often = [case(n, PUMP, ago=300.0, returned_as=("x",)) for n in range(6)]
    good = [case(20 + n, ago=300.0, verified=True) for n in range(30)]
    first, second = due([*often, *good, case(1 + 90, PUMP), case(92, verified=True)])
    assert (first.case, second.case) == ("c091", "c092") and first.risk > 3 * second.risk
    assert "6 of 7 with this cause came back" in first.why and "the cure was not proved" in first.why


def test_whoever_was_heard_of_is_asked_no_more_and_whoever_was_not_reached_comes_last():
    held = [
        case(1, followed="cured"),
        case(2, returned_as=("c003",)),
        case(4, followed="not reached", ago=50.0),
        case(5),
    ]
    rows = due(held)
    assert [row.case for row in rows] == ["c005", "c004"] and rows[1].tried
    assert len(due(held, most=1)) == 1


def test_a_cure_that_was_heard_of_counts_at_once_and_a_return_too():
    fresh = [case(n, ago=15.0) for n in range(4)]
    assert cures(fresh, now=NOW, trade=TRADE).systems == ()
    heard = [replace(fresh[0], followed="cured"), replace(fresh[1], followed="came back"), *fresh[2:]]
    (row,) = cures(heard, now=NOW, trade=TRADE).systems
    assert (row.closed, row.came_back) == (2, 1)


def test_a_row_of_what_keeps_failing_counts_a_cure_that_was_heard_of():
    held = [case(n, ago=15.0, followed="cured" if n < 2 else None) for n in range(4)]
    (row,) = recurrences(held, by=("model", "system"), now=NOW, min_cases=1).rows
    assert (row.first_cured.count, row.first_cured.of) == (2, 2)
    assert Asked().min_cases == 2


@given(st.lists(st.tuples(st.sampled_from([FAN, PUMP]), st.booleans(), st.booleans()), max_size=20))
def test_risks_are_chances_and_fall_down_the_list(made):
    held = [
        case(n, cause, ago=20.0 + n, verified=verified, returned_as=("x",) if back else ())
        for n, (cause, verified, back) in enumerate(made)
    ]
    risks = [row.risk for row in due(held)]
    assert all(0.0 < risk < 1.0 for risk in risks) and risks == sorted(risks, reverse=True)


def summer(count, *, ago, part="cooling.fan_motor", price=50.0, result="cured"):
    parts = [PartTried(part, "maker", result, price)]
    return [case(100 * int(ago) + n, ago=ago + n, parts=parts) for n in range(count)]


def test_the_season_ahead_is_told_from_the_last_one_with_what_to_stock():
    found = season([*summer(12, ago=290.0), *summer(2, ago=100.0)], now=NOW, trade=TRADE)
    (failure,) = found.failures
    assert (failure.last, failure.year) == (12, 14) and "12 in these three months a year ago" in failure.says
    (row,) = found.stock
    assert (row.component, row.fitted, row.price) == ("cooling.fan_motor", 12, 50.0) and row.keep >= 2
    assert found.ends - found.starts == timedelta(days=90)


def test_what_fails_all_year_is_no_season_and_useless_parts_are_not_stocked():
    even = [each for ago in range(5, 360, 15) for each in summer(1, ago=float(ago))]
    assert season(even, now=NOW, trade=TRADE).failures == ()
    useless = season(summer(6, ago=290.0, result="no change"), now=NOW, trade=TRADE)
    assert useless.failures and useless.stock == ()


def test_a_longer_lead_time_never_keeps_fewer():
    held = summer(9, ago=290.0)
    keeps = [
        season(held, now=NOW, trade=TRADE, costs=Costs(lead_days=days)).stock[0].keep
        for days in (1.0, 7.0, 21.0, 60.0)
    ]
    assert keeps == sorted(keeps) and keeps[-1] > keeps[0]


def test_a_part_without_a_price_is_kept_for_the_demand_alone():
    (row,) = season(summer(9, ago=290.0, price=None), now=NOW, trade=TRADE).stock
    assert row.price is None and 1 <= row.keep <= 9


def test_what_a_case_lacks_is_named_until_it_is_there():
    bare = case(1)
    whole = replace(
        bare,
        correction=Correction("replace", "cooling.fan_motor"),
        verification="ran cold",
        labour=Labour(diagnosis_min=20.0),
        complaint=replace(
            bare.complaint, vehicle=replace(bare.complaint.vehicle, odometer=Measure(80_000.0, "km"))
        ),
    )
    assert lacks(bare) == ("correction", "verification", "diagnosis minutes", "odometer")
    assert lacks(whole) == lacks(replace(bare, state="open")) == ()
