"""The demo garage's cases: enough, the same every time, right by the trade lists, sums that add up."""

from __future__ import annotations

import subprocess
import sys
from collections import Counter
from datetime import timedelta

import pytest

from baylore_kb.codes import is_generic, parse_code
from baylore_kb.readings import judge, outcome_of
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case
from baylore_service.demo.generator import cases, jobs
from baylore_service.demo.world import people
from baylore_service.demo.written import hand_written

DIGEST = (
    "import hashlib; from baylore_service.demo import cases;"
    "print(hashlib.sha256(repr([(c.id, c.complaint.text, c.complaint.tests, c.complaint.readings, c.note,"
    " c.cost) for c in cases(count=80)]).encode()).hexdigest())"
)


@pytest.fixture(scope="module")
def trade() -> Trade:
    return load()


@pytest.fixture(scope="module")
def shop() -> tuple[Case, ...]:
    return cases()


def solved(shop: tuple[Case, ...]) -> list[Case]:
    return [case for case in shop if case.state == "closed"]


def test_four_hundred_cases_are_closed_over_every_system(shop: tuple[Case, ...], trade: Trade) -> None:
    closed = solved(shop)
    assert len(shop) == 440
    assert len(closed) >= 400
    assert {case.cause_system for case in closed} == set(trade.systems)


def test_they_spread_over_about_three_years(shop: tuple[Case, ...]) -> None:
    days = sorted(case.opened for case in shop if case.opened)
    assert timedelta(days=950) < days[-1] - days[0] < timedelta(days=1150)
    assert len({(day.year, day.month) for day in days}) >= 34
    assert not [day for day in days if day.weekday() == 6]


def test_some_are_open_some_unresolved_some_come_back_and_some_are_on_no_list(shop: tuple[Case, ...]) -> None:
    states = Counter(case.state for case in shop)
    own = [case for case in shop if (case.cause or "").startswith("own.")]
    assert states["open"] >= 5
    assert states["unresolved"] >= 10
    assert len([case for case in shop if case.comeback_of]) >= 10
    assert len({case.cause for case in own}) >= 6
    assert all(case.cause_title and case.cause_system for case in own)


def test_the_same_seed_gives_the_same_cases_in_any_process() -> None:
    def digest(hash_seed: str) -> bytes:
        env = {"PYTHONHASHSEED": hash_seed}
        return subprocess.run([sys.executable, "-c", DIGEST], env=env, check=True, capture_output=True).stdout

    assert digest("1") == digest("2")


def test_another_seed_gives_other_cases_of_the_same_size() -> None:
    one, other = cases(seed=1, count=60), cases(seed=2, count=60)
    assert len(one) == len(other) == 60
    assert len({case.complaint.text for case in one} & {case.complaint.text for case in other}) < 20


@pytest.mark.parametrize("seed", [3, 19])
def test_every_id_is_of_the_trade_lists(seed: int, trade: Trade) -> None:
    for case in cases(seed=seed, count=150):
        asked = case.complaint
        assert set(asked.symptoms) <= set(trade.symptoms)
        assert {part.component for part in asked.parts} <= set(trade.components)
        assert asked.vehicle.traits <= set(trade.traits)
        assert case.cause is None or case.cause in trade.causes or case.cause.startswith("own.")
        assert case.confirmed_by is None or case.confirmed_by in trade.tests
        for done in asked.tests:
            assert done.outcome in {outcome.id for outcome in trade.tests[done.test].outcomes}
            assert done.part is None or done.part in trade.causes


def test_a_fault_and_its_tests_are_possible_on_the_car(shop: tuple[Case, ...], trade: Trade) -> None:
    known = [case for case in shop if case.complaint.vehicle.traits]
    assert len(known) > 100
    for case in known:
        traits = case.complaint.vehicle.traits
        needed = {trait for done in case.complaint.tests for trait in trade.tests[done.test].only_if}
        needed |= set(trade.causes[case.cause].only_if) if case.cause in trade.causes else set()
        assert needed <= traits, case.title


def test_nobody_does_a_test_beyond_their_skill(trade: Trade) -> None:
    skill = {person.name: person.skill for person in people()}
    for job in jobs():
        hardest = max((trade.tests[done.test].skill for done in job.case.complaint.tests), default=1)
        assert hardest <= skill[job.by], job.case.title


def test_codes_are_generic_and_in_their_own_form(shop: tuple[Case, ...]) -> None:
    codes = [code for case in shop for code in case.complaint.codes]
    assert len(codes) > 100
    assert all(parse_code(code) == code and is_generic(code) for code in codes)


def test_a_reading_says_what_its_test_showed(shop: tuple[Case, ...], trade: Trade) -> None:
    for case in shop:
        for reading in case.complaint.readings:
            with_it = [d for d in case.complaint.tests if trade.tests[d.test].quantity == reading.quantity]
            if reading.when == "before" and with_it:
                shown = {outcome_of(reading, trade.tests[done.test], trade) for done in with_it}
                assert shown & {None, *(done.outcome for done in with_it)}, (case.title, reading)


def test_readings_before_are_good_and_bad_and_readings_after_are_good(
    shop: tuple[Case, ...], trade: Trade
) -> None:
    judged = [judge(reading, trade) for case in shop for reading in case.complaint.readings]
    before = Counter(each.good for each in judged if each.reading.when == "before")
    after = Counter(each.good for each in judged if each.reading.when == "after")
    assert before[True] > 100
    assert before[False] > 100
    assert after[True] > 0.9 * after.total() > 90
    assert not [each for each in judged if each.verdict == "implausible"]
    assert {"psi", "bar", "kPa"} <= {each.reading.unit for each in judged}


def test_money_adds_up(shop: tuple[Case, ...]) -> None:
    for case in shop:
        work = case.labour
        billed = work.diagnosis_min + work.repair_min - work.not_billed_min
        charged = sum(part.price or 0 for part in case.complaint.parts if part.charged)
        if case.state != "open":
            assert billed >= 0
            assert case.cost.parts == pytest.approx(charged, abs=0.005)
            assert case.cost.labour == pytest.approx(billed / 60 * (work.rate_per_hour or 0), abs=0.006)


def test_the_minutes_of_the_tests_are_the_diagnosis(shop: tuple[Case, ...], trade: Trade) -> None:
    written = {job.case.id for job in hand_written(trade)}
    for case in shop:
        if case.state != "open" and case.id not in written:
            assert sum(done.minutes or 0 for done in case.complaint.tests) == case.labour.diagnosis_min


def test_comebacks_and_what_they_came_from_name_each_other(shop: tuple[Case, ...]) -> None:
    by_id = {case.id: case for case in shop}
    for case in shop:
        if case.comeback_of:
            earlier = by_id[case.comeback_of]
            assert case.id in earlier.returned_as
            assert not earlier.verified
            assert earlier.opened and case.opened and earlier.opened < case.opened
            assert earlier.complaint.vehicle.model == case.complaint.vehicle.model
        assert all(by_id[id].comeback_of == case.id for id in case.returned_as)


def test_the_jobs_written_by_hand_are_among_them_whole(shop: tuple[Case, ...]) -> None:
    by_title = {case.title: case for case in shop}
    sensor = by_title["ABS kicks in just before stopping, copy wheel sensor half worked"]
    hunt = by_title["Cuts out hot now and then, no fault found"]
    assert sensor.correction is not None
    assert sensor.correction.text == "LF wheel sensor from the maker, seat cleaned, lead clipped as before"
    assert [part.result for part in sensor.complaint.parts] == ["partly", "cured"]
    assert hunt.unresolved_reason == "no fault found"
    assert "fuel level when it died" in hunt.note
