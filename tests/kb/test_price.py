"""What such jobs came to."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baylore_kb.price import price_span
from baylore_kb.values import Case, Complaint, Cost, Labour, Match, PriceSpan, Terms, Why

TERMS = Terms(rate_per_hour=60.0, currency="EUR")


def job(parts=0.0, minutes=0.0, *, chance=0.5, currency="EUR", **more):
    case = Case(
        f"c{parts}-{minutes}-{chance}",
        Complaint("x"),
        "closed",
        cause="aircon.clutch.worn",
        labour=Labour(repair_min=minutes, rate_per_hour=30.0),
        cost=Cost(parts=parts, labour=minutes / 2, currency=currency),
    )
    return Match(replace(case, **more), chance, Why())


def test_nine_jobs_are_told_as_least_middle_and_most():
    jobs = [job(parts) for parts in (140, 90, 260, 130, 150, 100, 250, 120, 160)]
    assert price_span(jobs, TERMS) == PriceSpan(9, 90.0, 140.0, 260.0, "EUR")


def test_labour_counts_at_todays_rate():
    span = price_span([job(100, 60), job(100, 90), job(100, 120)], TERMS)
    assert (span.low, span.middle, span.high) == (160.0, 190.0, 220.0)


def test_minutes_given_away_are_not_reckoned():
    given_away = replace(job(100, 60).case.labour, not_billed_min=60.0)
    span = price_span([job(100, 60, labour=given_away), job(110), job(120)], TERMS)
    assert span.low == 100.0


def test_a_job_without_minutes_keeps_the_labour_that_was_written():
    written = Cost(parts=100.0, labour=45.0, currency="EUR")
    assert price_span([job(100, cost=written), job(200), job(300)], TERMS).low == 145.0


def test_only_the_nine_likeliest_count():
    jobs = [job(10, chance=0.2), *(job(100 + n, chance=0.5 + n / 100) for n in range(9))]
    assert price_span(jobs, TERMS).low == 100.0


def test_the_middle_leans_to_the_likelier_jobs():
    assert price_span([job(100, chance=0.9), job(200, chance=0.2), job(300, chance=0.2)], TERMS).middle == 100


def test_an_even_split_is_told_halfway():
    jobs = [job(100), job(200), job(300), job(400)]
    assert price_span(jobs, TERMS).middle == 250.0


@pytest.mark.parametrize(
    "odd",
    [
        job(50, currency="USD"),
        job(50, chance=0.1),
        job(50, state="unresolved", cause=None),
        job(50, returned_as=("c9",)),
        job(),
    ],
    ids=["other currency", "unlike", "not found", "came back", "no money"],
)
def test_jobs_that_do_not_compare_are_left_out(odd):
    assert price_span([odd, job(100), job(110)], TERMS) is None
    assert price_span([odd, job(100), job(110), job(120)], TERMS).cases == 3


@given(
    st.lists(
        st.tuples(st.floats(0, 5000), st.floats(0, 600), st.floats(0.15, 1.0)), max_size=12, unique_by=str
    )
)
def test_the_middle_lies_between_least_and_most(drawn):
    span = price_span([job(parts, minutes, chance=chance) for parts, minutes, chance in drawn], TERMS)
    if span is not None:
        assert 3 <= span.cases <= 9
        assert 0.0 < span.low <= span.middle <= span.high
