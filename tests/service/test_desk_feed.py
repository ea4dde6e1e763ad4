"""The change log as a phone follows it."""

from __future__ import annotations

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.service.house_fixtures import DROP, a_case

from baylore_service.desk import cases, feed, steps
from baylore_service.desk.house import House
from baylore_service.store.records import Actor, CaseFile, CaseFilter


def followed(house: House, actor: Actor, *, limit: int, after: int = 0) -> tuple[dict[str, CaseFile], int]:
    """What a phone holds after following the log to its end, page by page."""
    held: dict[str, CaseFile] = {}
    while True:
        found, after, latest = feed.changes(house, actor, after=after, limit=limit)
        for change in found:
            if change.op == "delete":
                held.pop(change.id, None)
            elif change.case is not None:
                held[change.id] = change.case
        if after == latest:
            return held, after


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.sampled_from(["open", "step", "delete"]), max_size=12), st.integers(1, 5))
def test_a_phone_that_follows_holds_what_the_shop_holds(
    house: House, boss: Actor, acts: list[str], limit: int
) -> None:
    for act in acts:
        there = cases.list_cases(house, boss, CaseFilter()).items
        if act == "open" or not there:
            a_case(house, boss)
        elif act == "step":
            steps.add_test(house, boss, there[-1].id, DROP)
        else:
            cases.delete_case(house, boss, there[0].id, expected_revision=None)
    held, _ = followed(house, boss, limit=limit)
    assert held == {file.id: file for file in cases.list_cases(house, boss, CaseFilter(), limit=100).items}


def test_only_the_latest_change_of_a_case_carries_it(house: House, tech: Actor, opened: CaseFile) -> None:
    for _ in range(3):
        steps.add_test(house, tech, opened.id, DROP)
    found, _, _ = feed.changes(house, tech, after=opened.revision - 1)
    assert [change.case is not None for change in found] == [False, False, False, True]
    assert found[-1].case == cases.get_case(house, tech, opened.id)


def test_at_the_end_there_is_nothing_more(house: House, tech: Actor, opened: CaseFile) -> None:
    latest = feed.revision(house, tech)
    assert feed.changes(house, tech, after=latest) == ((), latest, latest)
    assert feed.changes(house, tech, after=latest + 1000) == ((), latest, latest)


def test_a_shop_hears_of_its_own_only(house: House, stranger: Actor, opened: CaseFile) -> None:
    held, _ = followed(house, stranger, limit=50)
    assert held == {}
