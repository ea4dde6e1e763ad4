"""The demo garage in a store: whole, once, and never in the future."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from baylore_kb.plan.lacking import missing_tool
from baylore_kb.values import Vehicle
from baylore_service import demo
from baylore_service.demo.filing import filed
from baylore_service.demo.generator import cases, jobs
from baylore_service.demo.world import people
from baylore_service.desk import cases as desk_cases
from baylore_service.desk import feed, members, shops
from baylore_service.desk.house import House
from baylore_service.store.records import Actor, CaseDraft, CaseFile, CaseFilter

SIZE = 60


def everything(house: House, actor: Actor) -> list[CaseFile]:
    found: list[CaseFile] = []
    cursor: str | None = None
    while True:
        page = desk_cases.list_cases(house, actor, CaseFilter(), cursor=cursor, limit=100)
        found += page.items
        cursor = page.next_cursor
        if cursor is None:
            return found


@pytest.fixture
def loaded(house: House) -> demo.DemoShop:
    return demo.load(house, count=SIZE)


@pytest.fixture
def actor(loaded: demo.DemoShop) -> Actor:
    return shops.console(loaded.shop)


def test_the_shop_its_people_and_its_cases_are_there(
    house: House, loaded: demo.DemoShop, actor: Actor
) -> None:
    there = {member.name: (member.role, member.skill) for member in members.list_members(house, actor)}
    assert there == {person.name: (person.role, person.skill) for person in people()}
    assert loaded.manager.role == "manager"
    assert loaded.technician.role == "technician"
    assert {file.id for file in everything(house, actor)} == {case.id for case in cases(count=SIZE)}


def test_one_member_may_open_the_refrigerant_circuit_and_one_tool_is_missing(
    house: House, loaded: demo.DemoShop, actor: Actor
) -> None:
    holders = [each for each in members.list_members(house, actor) if each.rights]
    [rule] = loaded.shop.rights
    assert [each.rights for each in holders] == [(rule.right,)] and holders[0].role == "technician"
    lacking = {id for id, test in house.trade.tests.items() if missing_tool(test.tools, loaded.shop.lacks)}
    done = {test.test for case in cases() for test in case.complaint.tests}
    assert lacking and not lacking & done


def test_a_second_time_adds_nothing(house: House, loaded: demo.DemoShop, actor: Actor) -> None:
    before = feed.changes(house, actor, after=0, limit=500)
    assert demo.load(house, count=SIZE) == loaded
    assert feed.changes(house, actor, after=0, limit=500) == before
    assert len(shops.list_shops(house)) == 1


def test_a_load_that_broke_off_before_the_cases_is_finished_the_next_time(
    house: House, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as broken:
        broken.setattr("baylore_service.demo.loading.jobs", lambda *_: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            demo.load(house, count=SIZE)
    shop = demo.load(house, count=SIZE).shop
    assert len(everything(house, shops.console(shop))) == SIZE


def test_what_members_did_since_stays(house: House, loaded: demo.DemoShop, actor: Actor) -> None:
    desk_cases.open_case(house, actor, CaseDraft("new complaint", vehicle=Vehicle(2011, "Tarrow", "Linnet")))
    members.amend_member(house, actor, loaded.technician.id, {"name": "Somebody Else"})
    again = demo.load(house, count=SIZE)
    assert again.technician.name == "Somebody Else"
    assert len(everything(house, actor)) == SIZE + 1


def test_every_case_has_its_line_in_the_change_log(house: House, actor: Actor) -> None:
    changes, _, _ = feed.changes(house, actor, after=0, limit=500)
    logged = {change.id for change in changes if change.kind == "case"}
    assert logged == {file.id for file in everything(house, actor)}


def test_a_stored_case_is_the_case_that_was_made(house: House, actor: Actor) -> None:
    made = {case.id: case for case in cases(count=SIZE)}
    for file in everything(house, actor):
        stored, case = desk_cases.get_case(house, actor, file.id).as_case(), made[file.id]
        assert stored.complaint.tests == case.complaint.tests
        assert stored.complaint.readings == case.complaint.readings
        assert stored.complaint.parts == case.complaint.parts
        assert (stored.cause, stored.cost, stored.note) == (case.cause, case.cost, case.note)


@pytest.mark.parametrize("now", [datetime(y, m, 9, tzinfo=UTC) for y, m in ((2024, 3), (2026, 2), (2031, 8))])
def test_dates_move_by_whole_years_to_lie_in_the_year_before(now: datetime) -> None:
    files = list(filed(jobs(count=SIZE), now))
    newest = max(file.closed or file.opened for file in files)
    assert timedelta(0) <= now - newest < timedelta(days=364)
    by_id = {job.case.id: job.case.opened for job in jobs(count=SIZE)}
    moved = {(file.opened - (by_id[file.id] or now)).days for file in files}
    assert len(moved) == 1
    assert moved.pop() % 364 == 0


def test_who_did_what_is_kept_with_each_step(house: House, actor: Actor) -> None:
    names = {person.name for person in people()}
    for file in everything(house, actor):
        whole = desk_cases.get_case(house, actor, file.id)
        assert whole.by in names
        assert {step.stamp.by for step in (*whole.tests, *whole.readings, *whole.parts)} <= names
