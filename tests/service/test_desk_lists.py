"""Lists of cases: pages, filters, cursors."""

from __future__ import annotations

from datetime import timedelta

import pytest
from tests.service.house_fixtures import CAUSE, MORNING, a_case

from baylore_kb.values import Vehicle
from baylore_service.desk import cases
from baylore_service.desk.house import House
from baylore_service.errors import BadValue
from baylore_service.store.records import Actor, CaseFile, CaseFilter


def ids(house: House, actor: Actor, **which: object) -> list[str]:
    """Ids of the cases a filter finds."""
    return [file.id for file in cases.list_cases(house, actor, CaseFilter(**which)).items]  # type: ignore[arg-type]


def test_pages_give_each_case_once_newest_first(house: House, tech: Actor) -> None:
    made = [a_case(house, tech, id=f"c{n}", opened=MORNING - timedelta(days=n // 3)).id for n in range(11)]
    seen, cursor = [], None
    for _ in range(4):
        page = cases.list_cases(house, tech, CaseFilter(), cursor=cursor, limit=3)
        seen += page.items
        cursor = page.next_cursor
    assert cursor is None and sorted(file.id for file in seen) == sorted(made)
    assert [(file.opened, file.id) for file in seen] == sorted(((f.opened, f.id) for f in seen), reverse=True)


def test_a_case_opened_while_paging_moves_nothing(house: House, tech: Actor) -> None:
    for n in range(4):
        a_case(house, tech, id=f"c{n}")
    first = cases.list_cases(house, tech, CaseFilter(), limit=2)
    a_case(house, tech, id="late")
    second = cases.list_cases(house, tech, CaseFilter(), cursor=first.next_cursor, limit=2)
    assert [file.id for file in (*first.items, *second.items)] == ["c3", "c2", "c1", "c0"]


def test_a_cursor_is_good_for_its_filter_only(house: House, tech: Actor) -> None:
    for _ in range(3):
        a_case(house, tech)
    cursor = cases.list_cases(house, tech, CaseFilter(state="open"), limit=1).next_cursor
    with pytest.raises(BadValue, match="another filter") as refused:
        cases.list_cases(house, tech, CaseFilter(state="closed"), cursor=cursor)
    assert refused.value.field == "cursor"


@pytest.mark.parametrize("cursor", ["", "x", "AAAA", "W10", "WzEsMiwzXQ", "é", "bm9uc2Vuc2U="])
def test_a_made_up_cursor_is_refused(house: House, tech: Actor, cursor: str) -> None:
    with pytest.raises(BadValue) as refused:
        cases.list_cases(house, tech, CaseFilter(), cursor=cursor)
    assert refused.value.field == "cursor"


def test_words_are_found_wherever_they_stand_and_however_written(
    house: House, tech: Actor, closed: CaseFile
) -> None:
    a_case(house, tech, "heater blows cold")
    assert ids(house, tech, text="CLICK linnét") == [closed.id]
    assert ids(house, tech, text="new cable") == [closed.id]
    assert ids(house, tech, text="click heater") == []


@pytest.mark.parametrize("text", ["%", "_", "\\", "' OR 1=1 --", "100%"])
def test_signs_of_the_database_are_plain_text(house: House, tech: Actor, opened: CaseFile, text: str) -> None:
    assert ids(house, tech, text=text) == []


def test_a_percent_sign_in_a_case_is_found(house: House, tech: Actor) -> None:
    assert ids(house, tech, text="80%") == [] and a_case(
        house, tech, "battery at 80% after a week"
    ).id in ids(house, tech, text="80%")


def test_a_closed_case_is_found_by_the_system_of_its_cause(
    house: House, tech: Actor, closed: CaseFile
) -> None:
    assert ids(house, tech, system="starting") == [closed.id] and ids(house, tech, system="aircon") == []
    assert ids(house, tech, cause=CAUSE) == [closed.id] and ids(house, tech, state="closed") == [closed.id]


def test_an_open_case_is_found_by_the_system_of_what_was_heard(house: House, tech: Actor) -> None:
    heard = a_case(house, tech, "air conditioning blows warm")
    given = a_case(house, tech, "it does it again", symptoms=("no_crank_click",))
    assert ids(house, tech, system="aircon") == [heard.id]
    assert given.id in ids(house, tech, system="starting")


def test_make_and_model_are_found_in_any_case(house: House, tech: Actor, opened: CaseFile) -> None:
    a_case(house, tech, vehicle=Vehicle(2011, "Ondrey", "Pike"))
    assert ids(house, tech, make="TARROW", model=" linnet") == [opened.id]


def test_a_span_of_time_holds_both_its_ends(house: House, tech: Actor) -> None:
    days = [a_case(house, tech, opened=MORNING - timedelta(days=n)).id for n in range(4)]
    found = ids(house, tech, since=MORNING - timedelta(days=2), until=MORNING - timedelta(days=1))
    assert found == [days[1], days[2]]


def test_a_system_that_is_not_listed_is_refused_by_name(house: House, tech: Actor) -> None:
    with pytest.raises(BadValue, match="aircn") as refused:
        ids(house, tech, system="aircn")
    assert refused.value.field == "system" and "aircon" in refused.value.remedy


def test_a_shop_lists_its_own_only(house: House, stranger: Actor, opened: CaseFile) -> None:
    assert ids(house, stranger) == []
