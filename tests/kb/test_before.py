"""What was ruled out before on this model."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.kb.causes_asked import CLICK, STARTER, after
from tests.kb.invented_shop import empty_shop

from baylore_kb.before import ruled_out_before
from baylore_kb.question import understand
from baylore_kb.values import Case, Complaint, Match, TestDone, Vehicle, Why

EMPTY = empty_shop()
LINNET = Vehicle(2011, "Tarrow", "Linnet")
DROP_OK = TestDone("crank_drop_neg", "ok", minutes=4)
RELAY_OK = TestDone("start_relay", "ok", minutes=5)


def past(*tests, number=1, chance=0.6, cause=STARTER, car=LINNET, **more):
    complaint = replace(CLICK, vehicle=car, tests=tests)
    return Match(Case(f"c{number}", complaint, "closed", cause=cause, **more), chance, Why())


@cache
def now(car, tests):
    asked = replace(CLICK, vehicle=car, tests=tests)
    return understand(asked, EMPTY), after(*tests, complaint=asked)


def said(*matches, car=LINNET, tests=()):
    question, chances = now(car, tests)
    return ruled_out_before(question, matches, chances)


def test_a_good_ground_drop_says_that_the_cables_were_ruled_out_and_how_long_it_took():
    row = said(past(DROP_OK), past(replace(DROP_OK, minutes=8), number=2), past(number=3))[0]
    assert (row.test, row.means, row.times, row.minutes) == ("crank_drop_neg", "small", 2, 6.0)
    assert set(row.causes) == {"Battery negative to engine cable", "Engine and body ground straps"}


def test_a_good_plug_does_not_clear_the_part_behind_it():
    asked = Complaint("runs hot in traffic, fan dead", vehicle=LINNET, symptoms=("fan_never",))
    drop_ok = replace(asked, tests=(TestDone("fan_drop", "ok"),))
    before = Match(Case("c1", drop_ok, "closed", cause="cooling.fan_motor.worn"), 0.6, Why())
    rows = ruled_out_before(understand(asked, EMPTY), [before], after(complaint=asked))
    assert rows[0].causes == ("Fan connector melted or corroded",)


def test_the_more_often_cleared_of_two_comes_first():
    often = TestDone("crank_drop_pos", "ok")
    rows = said(past(DROP_OK), *(past(often, number=n) for n in range(2, 6)))
    assert [row.test for row in rows] == ["crank_drop_pos", "crank_drop_neg"]
    assert rows[0].minutes is None


@pytest.mark.parametrize(
    "other",
    [Vehicle(2011, "Tarrow", "Wren"), Vehicle(2011, "Ondrey", "Linnet"), Vehicle(2019, "Tarrow", "Linnet")],
)
def test_another_model_or_one_many_years_apart_says_nothing(other):
    assert said(past(DROP_OK, car=other)) == ()


@pytest.mark.parametrize("near", [Vehicle(None, "Tarrow", "linnet"), Vehicle(2014, "", "Linnet")])
def test_a_year_or_make_not_written_still_counts(near):
    assert said(past(DROP_OK, car=near))[0].test == "crank_drop_neg"


def test_nothing_is_said_of_a_car_whose_model_is_not_known():
    assert said(past(DROP_OK, car=Vehicle()), car=Vehicle()) == ()


@pytest.mark.parametrize(
    "match",
    [
        past(TestDone("crank_drop_neg", "high"), cause="starting.ground_cable.high_resistance"),
        past(DROP_OK, cause="starting.ground_cable.high_resistance"),
        past(replace(DROP_OK, fault_present=False)),
        past(TestDone("own.carpet", "found")),
        past(DROP_OK, chance=0.01, cause="aircon.clutch.worn"),
    ],
    ids=["led to the cause", "was wrong", "fault away", "not a listed test", "another complaint"],
)
def test_what_cleared_nothing_is_not_told(match):
    assert said(match) == ()


def test_a_case_not_closed_is_not_told():
    match = past(DROP_OK)
    assert said(match._replace(case=replace(match.case, state="open", cause=None))) == ()


def test_a_test_already_done_now_is_left_out():
    assert said(past(DROP_OK), tests=(DROP_OK,)) == ()


TESTS = st.sampled_from([*EMPTY.trade.tests.values()]).flatmap(
    lambda test: st.builds(
        TestDone,
        st.just(test.id),
        st.sampled_from([outcome.id for outcome in test.outcomes]),
        minutes=st.none() | st.floats(0, 90),
    )
)


@settings(max_examples=25)
@given(st.lists(st.lists(TESTS, max_size=4), max_size=8))
def test_at_most_five_rows_each_with_titles_of_what_it_cleared(done):
    rows = said(*(past(*tests, number=n) for n, tests in enumerate(done)))
    assert len(rows) <= 5 and len({(row.test, row.means) for row in rows}) == len(rows)
    assert all(row.causes and len(row.causes) <= 4 and 1 <= row.times <= len(done) for row in rows)
