"""Wrong sign-in codes: after too many in a minute from one address the next must wait."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.service.app_fixtures import Floor
from tests.service.house_fixtures import Clock
from tests.service.test_routes_people import enrol, join
from tests.service.test_routes_refusals import check_problem

from baylore_service.desk import members, tries
from baylore_service.desk.house import House
from baylore_service.errors import CodeRefused, TooManyTries
from baylore_service.settings import Settings
from baylore_service.store.records import Actor

START = datetime(2026, 3, 11, tzinfo=UTC)


def guess(house: House, times: int, address: str = "10.0.0.9") -> None:
    """Send so many wrong codes."""
    for _ in range(times):
        with pytest.raises(CodeRefused):
            members.join(house, "wrong-code", "phone", address=address)


def test_after_too_many_wrong_codes_even_the_right_one_waits(
    house: House, boss: Actor, tech: Actor, clock: Clock
) -> None:
    code = members.enrol(house, boss, tech.member.id).code
    guess(house, house.settings.max_wrong_codes)
    with pytest.raises(TooManyTries) as refused:
        members.join(house, code, "phone", address="10.0.0.9")
    assert 0 < refused.value.wait_s <= 60
    clock.wait(seconds=refused.value.wait_s)
    assert members.join(house, code, "phone", address="10.0.0.9")[1].member == tech.member


def test_another_address_is_not_held_up(house: House, boss: Actor, tech: Actor) -> None:
    guess(house, house.settings.max_wrong_codes)
    code = members.enrol(house, boss, tech.member.id).code
    assert members.join(house, code, "phone", address="10.0.0.10")


def test_the_answer_says_how_long_to_wait(floor: Floor) -> None:
    code = enrol(floor)["code"]
    for _ in range(floor.settings.max_wrong_codes):
        check_problem(join(floor, "wrong-code"), 403, "code")
    answer = join(floor, code)
    check_problem(answer, 429, "code")
    assert 0 < int(answer.headers["retry-after"]) <= 60


def test_how_many_are_taken_is_a_setting(stored: Settings, clock: Clock) -> None:
    house = House.open(replace(stored, max_wrong_codes=1), clock=clock)
    guess(house, 1)
    with pytest.raises(TooManyTries):
        members.join(house, "wrong-code", "phone", address="10.0.0.9")
    house.close()


def test_addresses_beyond_the_most_are_forgotten(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tries, "MOST_ADDRESSES", 2)
    kept = tries.Tries(1)
    for address in ("a", "b", "c"):
        kept.wrong(address, START)
    kept.check("a", START)
    with pytest.raises(TooManyTries):
        kept.check("c", START)


@given(st.lists(st.integers(0, 200), max_size=30), st.integers(1, 5))
def test_never_more_than_so_many_pass_in_any_minute(gaps: list[int], most: int) -> None:
    kept, now, passed = tries.Tries(most), START, []
    for gap in gaps:
        now += timedelta(seconds=gap)
        try:
            kept.check("a", now)
        except TooManyTries:
            continue
        kept.wrong("a", now)
        passed.append(now)
    for first in passed:
        assert sum(first <= each < first + tries.SPAN for each in passed) <= most
