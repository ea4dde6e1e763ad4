"""Lists of any length are asked for by few different statements."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import event
from tests.service.house_fixtures import a_case

from baylore_service.desk.house import House
from baylore_service.store import cases
from baylore_service.store.records import Actor


@contextmanager
def statements(house: House) -> Iterator[set[str]]:
    """The different statements that are sent meanwhile."""
    seen: set[str] = set()

    def note(_c: Any, _k: Any, statement: str, *_rest: Any) -> None:
        seen.add(statement)

    event.listen(house.store.engine, "before_cursor_execute", note)
    yield seen
    event.remove(house.store.engine, "before_cursor_execute", note)


def test_cases_asked_for_by_any_number_of_ids_take_ten_statements(house: House, tech: Actor) -> None:
    there = a_case(house, tech)
    with statements(house) as seen, house.store.read() as work:
        for count in range(1, 600, 7):
            found = cases.get_many(work, tech.shop.id, [there.id, *(f"no case {n}" for n in range(count))])
            assert list(found) == [there.id]
    assert len([each for each in seen if each.lstrip().startswith("SELECT")]) <= 10


def test_no_ids_find_nothing(house: House, tech: Actor) -> None:
    a_case(house, tech)
    with house.store.read() as work:
        assert cases.get_many(work, tech.shop.id, []) == {}
        assert cases.of_causes(work, tech.shop.id, []) == []
