"""A visit that was written twice: found, joined so that nothing is lost, taken apart again."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from tests.service.house_fixtures import DROP, LINNET, a_case, keyed

from baylore_kb.values import Measure
from baylore_service.desk import cases, joining, steps, transfer
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.errors import BadValue, StaleRevision
from baylore_service.store.records import Actor, CaseFile

WORDS = "one click and nothing, lamps stay bright"


@pytest.fixture()
def pair(house: House, tech: Actor, boss: Actor) -> tuple[CaseFile, CaseFile]:
    """Two records of one visit, by two members."""
    car = replace(LINNET, odometer=Measure(141_000, "km"))
    first = a_case(house, tech, WORDS, vehicle=car, codes=("P0480",))
    second = a_case(house, boss, "one clik, nothing, lamps bright", vehicle=car, note="battery was fine")
    steps.add_test(house, boss, second.id, DROP)
    return first, cases.get_case(house, boss, second.id)


def file(result: Any) -> CaseFile:
    assert isinstance(result, CaseFile)
    return result


def test_the_other_record_of_a_visit_is_found_with_reasons(house: House, tech: Actor, pair: Any) -> None:
    found = joining.alike(house, tech, pair[0].id)
    assert [each.case.id for each in found] == [pair[1].id]
    assert found[0].why[:2] == ("same car", "same day") and not found[0].exact


def test_joining_takes_over_what_was_lacking_and_loses_nothing(house: House, tech: Actor, pair: Any) -> None:
    first, second = pair
    joined = file(joining.join(house, tech, first.id, second.id))
    assert [step.test.test for step in joined.tests] == [DROP.test] and joined.codes == ("P0480",)
    assert joined.note.endswith("battery was fine")
    kept = cases.get_case(house, tech, second.id)
    assert kept.joined_into == first.id and kept.tests == second.tests
    assert set(house.hosts.snapshot(tech.shop.id).cases) == {first.id}
    assert joining.alike(house, tech, first.id) == () == joining.alike(house, tech, second.id)
    assert verify(house).good


def test_splitting_gives_both_back_and_does_not_ask_again(house: House, tech: Actor, pair: Any) -> None:
    first, second = pair
    joining.join(house, tech, first.id, second.id)
    joining.split(house, tech, second.id, first.id)
    again, other = (cases.get_case(house, tech, each.id) for each in pair)
    assert (again.tests, again.note, again.joined_into) == (first.tests, first.note, None)
    assert other.tests == second.tests and other.joined_into is None
    assert set(house.hosts.snapshot(tech.shop.id).cases) == {first.id, second.id}
    assert joining.alike(house, tech, first.id) == ()


def test_two_visits_kept_apart_are_not_asked_about_again(house: House, tech: Actor, pair: Any) -> None:
    joining.keep_apart(house, tech, pair[0].id, pair[1].id)
    assert joining.alike(house, tech, pair[0].id) == () == joining.alike(house, tech, pair[1].id)
    assert len(house.hosts.snapshot(tech.shop.id).cases) == 2


def test_what_cannot_be_joined_is_refused_with_a_way_out(house: House, tech: Actor, pair: Any) -> None:
    first, second = pair
    with pytest.raises(BadValue, match="with itself"):
        joining.join(house, tech, first.id, first.id)
    with pytest.raises(StaleRevision):
        joining.join(house, tech, first.id, second.id, expected_revision=first.revision + 1000)
    with pytest.raises(BadValue, match="not joined"):
        joining.split(house, tech, second.id, first.id)
    joining.join(house, tech, first.id, second.id)
    with pytest.raises(BadValue, match="was joined into"):
        joining.join(house, tech, second.id, first.id)


def test_a_join_sent_twice_is_done_once(house: House, tech: Actor, pair: Any) -> None:
    sent = keyed("join-1")
    joining.join(house, tech, pair[0].id, pair[1].id, receipt=sent)
    assert joining.join(house, tech, pair[0].id, pair[1].id, receipt=sent).replayed  # type: ignore[union-attr]
    assert len(cases.get_case(house, tech, pair[0].id).tests) == 1


def test_an_import_tells_what_was_written_down_before_and_merges_nothing(
    house: House, boss: Actor, pair: Any
) -> None:
    first = pair[0]
    same = replace(first, id="5b0c8a5e-3f53-4a51-9a35-3c1a9a5d9b01")
    near = replace(
        same, id="5b0c8a5e-3f53-4a51-9a35-3c1a9a5d9b02", complaint_text="one clik, nothing, lamps bright"
    )
    lines = {b"1": same, b"2": near, b"3": first}
    report = transfer.import_lines(house, boss, list(lines), parse=lines.__getitem__)
    assert (report.added, report.unchanged) == (2, 1)
    assert report.doubles.exact == 1 and report.doubles.near >= 1
    told = {double.line: double for double in report.doubles.named}
    assert told[1].of == first.id and told[1].exact
    assert told[2].why[:2] == ("same car", "same day") and not told[2].exact
    assert len(house.hosts.snapshot(boss.shop.id).cases) == 4
