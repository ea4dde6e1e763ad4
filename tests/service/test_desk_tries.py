"""Wrong sign-in codes and tokens: after too many in a minute the next wrong one must wait."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, given
from hypothesis import settings as examples
from hypothesis import strategies as st
from tests.service.app_fixtures import Floor
from tests.service.house_fixtures import Clock
from tests.service.test_routes_people import enrol, join
from tests.service.test_routes_refusals import check_problem

from baylore_service.desk import members, tries
from baylore_service.desk.house import House
from baylore_service.desk.tidying import tidy
from baylore_service.errors import CodeRefused, NotSignedIn, TooManyTries
from baylore_service.settings import Settings
from baylore_service.store import tries as kept
from baylore_service.store.records import Actor

START = datetime(2026, 3, 11, tzinfo=UTC)
HERE = "192.0.2.9"


def guess(house: House, times: int, address: str = HERE) -> None:
    """Send so many wrong codes."""
    for at in range(times):
        with pytest.raises(CodeRefused):
            members.join(house, f"wrong-code-{at}", "phone", address=address)


def test_after_too_many_wrong_codes_the_next_wrong_one_waits(house: House, clock: Clock) -> None:
    guess(house, house.settings.max_wrong_codes)
    with pytest.raises(TooManyTries) as refused:
        members.join(house, "another-wrong-code", "phone", address=HERE)
    assert 0 < refused.value.wait_s <= 60
    clock.wait(seconds=refused.value.wait_s)
    guess(house, 1)


def test_whoever_guesses_from_a_shops_address_does_not_lock_the_shop_out(
    house: House, boss: Actor, tech: Actor
) -> None:
    code = members.enrol(house, boss, tech.member.id).code
    guess(house, house.settings.max_wrong_codes)
    token, actor = members.join(house, code, "phone", address=HERE)
    assert actor.member == tech.member
    for _ in range(house.settings.max_wrong_codes + 2):
        with pytest.raises((NotSignedIn, TooManyTries)):
            members.who(house, f"wrong-{uuid4()}", address=HERE)
    assert members.who(house, token, address=HERE).member == tech.member


def test_one_code_is_not_tried_from_everywhere(house: House, boss: Actor, tech: Actor) -> None:
    code = members.enrol(house, boss, tech.member.id).code
    members.join(house, code, "phone", address=HERE)
    for at in range(house.settings.max_wrong_codes):
        with pytest.raises(CodeRefused):
            members.join(house, code, "phone", address=f"192.0.2.{at + 10}")
    with pytest.raises(TooManyTries):
        members.join(house, code, "phone", address="192.0.2.99")


def test_all_processes_count_together(stored: Settings, house: House, clock: Clock) -> None:
    other = House.open(stored, clock=clock)
    guess(house, house.settings.max_wrong_codes // 2)
    guess(
        other, house.settings.max_wrong_codes - house.settings.max_wrong_codes // 2, address=f"::ffff:{HERE}"
    )
    for each in (house, other):
        with pytest.raises(TooManyTries):
            members.join(each, "wrong-code", "phone", address=HERE)
    other.close()


def test_another_address_is_not_held_up_but_one_of_the_same_net_is(house: House) -> None:
    guess(house, house.settings.max_wrong_codes, address="2001:db8:1:2::1")
    with pytest.raises(TooManyTries):
        members.join(house, "wrong-code", "phone", address="2001:db8:1:2:ffff::9")
    guess(house, 1, address="2001:db8:1:3::1")


def test_what_is_kept_of_tries_is_forgotten(house: House, clock: Clock) -> None:
    guess(house, 3)
    clock.wait(minutes=2)
    tidy(house)
    with house.store.read() as work:
        assert kept.since(work, f"code from {HERE}", after=START) == (0, None)


def test_the_answer_says_how_long_to_wait(floor: Floor) -> None:
    for at in range(floor.settings.max_wrong_codes):
        check_problem(join(floor, f"wrong-code-{at}"), 403, "code")
    answer = join(floor, "wrong-code")
    check_problem(answer, 429, "code")
    assert 0 < int(answer.headers["retry-after"]) <= 60
    assert join(floor, enrol(floor)["code"]).status_code == 201


def test_wrong_tokens_are_counted_too(floor: Floor) -> None:
    def ask(at: int) -> int:
        headers = {"Authorization": f"Bearer wrong-token-{at}"}
        return floor.client.get("/api/me", headers=headers).status_code

    answers = [ask(at) for at in range(floor.settings.max_wrong_codes + 2)]
    assert answers == [401] * floor.settings.max_wrong_codes + [429, 429]
    assert floor.get("/me").status_code == 200


def test_how_many_are_taken_is_a_setting(stored: Settings, clock: Clock) -> None:
    house = House.open(replace(stored, max_wrong_codes=1), clock=clock)
    guess(house, 1)
    with pytest.raises(TooManyTries):
        members.join(house, "wrong-code", "phone", address=HERE)
    house.close()


@examples(suppress_health_check=[HealthCheck.function_scoped_fixture], max_examples=25, deadline=None)
@given(st.lists(st.integers(0, 200), max_size=20), st.integers(1, 4))
def test_never_more_than_so_many_pass_in_any_minute(house: House, gaps: list[int], most: int) -> None:
    counted, now, passed = tries.Tries(house.store, most), START, []
    address = uuid4().hex
    for gap in gaps:
        now += timedelta(seconds=gap)
        try:
            counted.wrong(tries.Tried("code", address, uuid4().hex), now)
        except TooManyTries:
            continue
        passed.append(now)
    for first in passed:
        assert sum(first <= each < first + tries.SPAN for each in passed) <= most
