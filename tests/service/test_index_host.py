"""The index of a shop follows its change log."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from unittest.mock import patch

from tests.service.house_fixtures import DROP, a_case

from baylore_kb.index import Snapshot
from baylore_service.desk import cases, close, devices, feed, steps
from baylore_service.desk.house import House
from baylore_service.store.records import Actor, CaseFile, Reopening


def test_what_was_committed_is_in_the_next_snapshot(
    house: House, tech: Actor, boss: Actor, closed: CaseFile
) -> None:
    host = house.hosts.host(tech.shop.id)
    first = host.snapshot()
    steps.add_test(house, tech, closed.id, DROP)
    second = host.snapshot()
    cases.delete_case(house, boss, closed.id, expected_revision=None)
    third = host.snapshot()
    assert [len(each.cases[closed.id].complaint.tests) for each in (first, second)] == [0, 1]
    assert closed.id not in third.cases and closed.id in second.cases
    assert third.revision == feed.revision(house, tech)


def test_whoever_signs_in_asks_of_what_was_there_by_then(
    house: House, tech: Actor, boss: Actor, closed: CaseFile
) -> None:
    house.mind_of(tech)
    token = devices.issue_token(house, tech.member.id, "phone")
    cases.delete_case(house, boss, closed.id, expected_revision=None)
    signed_in = devices.who(house, token)
    assert signed_in.latest == feed.revision(house, tech)
    assert closed.id not in house.mind_at_sign_in(signed_in).snapshot.cases


def test_a_case_put_and_deleted_between_two_looks_is_not_there(
    house: House, boss: Actor, closed: CaseFile
) -> None:
    host = house.hosts.host(boss.shop.id)
    host.snapshot()
    gone = a_case(house, boss)
    cases.delete_case(house, boss, gone.id, expected_revision=None)
    assert host.snapshot().cases.keys() == {closed.id}


def test_where_nothing_happened_the_same_snapshot_is_given(
    house: House, tech: Actor, closed: CaseFile
) -> None:
    host = house.hosts.host(tech.shop.id)
    assert host.snapshot() is host.snapshot()


def test_many_askers_at_once_build_one_index(house: House, tech: Actor, closed: CaseFile) -> None:
    host = house.hosts.host(tech.shop.id)
    with patch.object(Snapshot, "build", wraps=Snapshot.build) as build, ThreadPoolExecutor(8) as pool:
        found = set(map(id, pool.map(lambda _: host.snapshot(), range(16))))
    assert len(found) == 1 and build.call_count == 1


def test_a_shop_asks_its_own_index(house: House, tech: Actor, stranger: Actor, closed: CaseFile) -> None:
    assert house.hosts.snapshot(stranger.shop.id).cases == {}
    assert closed.id in house.hosts.snapshot(tech.shop.id).cases


def test_following_ends_where_building_anew_ends(house: House, boss: Actor, closed: CaseFile) -> None:
    host = house.hosts.host(boss.shop.id)
    host.snapshot()
    close.reopen_case(house, boss, closed.id, Reopening())
    steps.add_test(house, boss, a_case(house, boss).id, DROP)
    followed, fresh = host.snapshot(), host.rebuilt()
    assert followed.cases == fresh.cases and followed.revision == fresh.revision


def test_a_second_process_follows_the_first(house: House, tech: Actor, opened: CaseFile) -> None:
    other = House.open(house.settings, clock=house.now)
    assert opened.id in other.hosts.snapshot(tech.shop.id).cases
    new = a_case(house, tech)
    assert new.id in other.hosts.snapshot(tech.shop.id).cases
    other.close()
