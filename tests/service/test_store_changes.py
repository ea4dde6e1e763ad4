"""The change log of a shop."""

from __future__ import annotations

from dataclasses import replace

from sqlalchemy import delete, update
from tests.service.house_fixtures import a_case

from baylore_service.desk import cases, feed, members, shops
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.store import tables
from baylore_service.store.records import Actor, CaseFile


def test_each_change_has_the_next_number(house: House, boss: Actor, tech: Actor) -> None:
    file = a_case(house, tech)
    shops.amend_shop(house, boss, {"rate_per_hour": 80.0})
    members.amend_member(house, boss, tech.member.id, {"skill": 4})
    cases.delete_case(house, boss, file.id, expected_revision=None)
    found, _, latest = feed.changes(house, boss, after=0)
    assert [change.seq for change in found] == list(range(1, latest + 1))
    assert [(change.kind, change.op) for change in found[-4:]] == [
        ("case", "put"),
        ("shop", "put"),
        ("member", "put"),
        ("case", "delete"),
    ]


def test_shops_count_apart(house: House, boss: Actor, stranger: Actor) -> None:
    before = feed.revision(house, stranger)
    a_case(house, boss)
    assert feed.revision(house, stranger) == before


def test_the_revision_of_a_case_is_its_last_change(house: House, boss: Actor, opened: CaseFile) -> None:
    assert opened.revision == feed.revision(house, boss)
    changed = cases.amend_case(house, boss, opened.id, {"note": "x"}, expected_revision=opened.revision)
    assert (
        changed == replace(cases.get_case(house, boss, opened.id))
        and feed.revision(house, boss) == opened.revision + 1
    )


def test_a_lost_change_is_found(house: House, opened: CaseFile) -> None:
    with house.store.write() as work:
        work.connection.execute(delete(tables.changes).where(tables.changes.c.seq == 2))
    wrong = [check.what for check in verify(house).checks if not check.good]
    assert wrong == ["Corner Garage: the change log has no gap"]


def test_a_case_at_another_revision_than_its_change_is_found(house: House, opened: CaseFile) -> None:
    with house.store.write() as work:
        work.connection.execute(update(tables.cases).values(revision=opened.revision + 7))
    wrong = [check for check in verify(house).checks if not check.good]
    assert [check.what for check in wrong] == ["Corner Garage: revisions agree with the log"]
    assert opened.id in wrong[0].found
