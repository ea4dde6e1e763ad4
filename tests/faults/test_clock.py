"""The clock of the machine is set back by days while the service runs."""

from __future__ import annotations

from datetime import timedelta

import pytest
from tests.service.house_fixtures import CAUSE, DROP, Clock, a_case, a_file, keyed

from baylore_service.desk import advise, cases, close, feed, members, steps
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.desk.tidying import tidy
from baylore_service.errors import CodeRefused, TooManyTries
from baylore_service.store.records import Actor, CaseDraft, CaseFilter, Closing, Kept

BACK = {"days": -3}


def listed(house: House, actor: Actor, *, limit: int) -> list[str]:
    """The ids of all cases, page by page."""
    page = cases.list_cases(house, actor, CaseFilter(), limit=limit)
    ids = [file.id for file in page.items]
    while page.next_cursor:
        page = cases.list_cases(house, actor, CaseFilter(), limit=limit, cursor=page.next_cursor)
        ids += [file.id for file in page.items]
    return ids


def test_a_case_of_before_can_be_worked_on_and_closed_after(house: House, tech: Actor, clock: Clock) -> None:
    case = a_case(house, tech)
    clock.wait(**BACK)
    steps.add_test(house, tech, case.id, DROP)
    closed = a_file(close.close_case(house, tech, case.id, Closing(cause=CAUSE)))
    assert closed.state == "closed" and closed.closed is not None and closed.closed >= closed.opened
    assert verify(house).good


def test_ids_stay_apart_and_pages_show_every_case_once(house: House, tech: Actor, clock: Clock) -> None:
    made = {a_case(house, tech).id for _ in range(5)}
    clock.wait(**BACK)
    made |= {a_case(house, tech).id for _ in range(5)}
    found = listed(house, tech, limit=3)
    assert len(found) == len(made) == 10 and set(found) == made


def test_the_change_log_and_the_index_go_by_numbers_not_by_time(
    house: House, tech: Actor, clock: Clock
) -> None:
    a_case(house, tech)
    before = feed.revision(house, tech)
    clock.wait(**BACK)
    case = a_case(house, tech)
    told, reached, latest = feed.changes(house, tech, after=before)
    assert [change.id for change in told] == [case.id] and reached == latest == before + 1
    complaint = cases.get_case(house, tech, case.id).as_complaint(skill=tech.member.skill)
    assert advise.advise(house, tech, complaint).revision == latest


def test_a_device_stays_signed_in_and_a_kept_answer_is_given_again(
    house: House, tech: Actor, clock: Clock
) -> None:
    token = members.issue_token(house, tech.member.id, "phone")
    first = cases.open_case(house, tech, CaseDraft("no crank"), receipt=keyed("k"))
    clock.wait(**BACK)
    assert members.who(house, token).member.id == tech.member.id
    tidy(house)
    again = cases.open_case(house, tech, CaseDraft("no crank"), receipt=keyed("k"))
    assert isinstance(first, Kept) and isinstance(again, Kept)
    assert again.replayed and again.body == first.body


def test_a_sign_in_code_made_before_works_and_one_made_after_does_too(
    house: House, boss: Actor, clock: Clock
) -> None:
    before = members.enrol(house, boss, boss.member.id).code
    clock.wait(**BACK)
    after = members.enrol(house, boss, boss.member.id).code
    joined = [members.join(house, code, "phone")[1].member.id for code in (before, after)]
    assert joined == [boss.member.id] * 2


def test_wrong_codes_of_before_lock_nobody_out_for_longer_than_a_minute(
    house: House, boss: Actor, clock: Clock
) -> None:
    for _ in range(house.settings.max_wrong_codes):
        with pytest.raises(CodeRefused):
            members.join(house, "no such code", "phone", address="192.0.2.7")
    clock.wait(**BACK)
    code = members.enrol(house, boss, boss.member.id).code
    try:
        members.join(house, code, "phone", address="192.0.2.7")
    except TooManyTries as refused:
        assert refused.wait_s <= timedelta(minutes=1).total_seconds()
