"""Steps of a case: added, mended, undone."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.service.house_fixtures import AFTER, CABLE, CRANKING, DROP, a_file

from baylore_kb import values as kb
from baylore_service.desk import cases, steps, transfer
from baylore_service.desk.house import House
from baylore_service.desk.stepkinds import OBJECTION
from baylore_service.errors import AlreadyThere, BadValue, NotFound, StaleRevision
from baylore_service.store.records import Actor, CaseFile


def test_steps_are_kept_in_order_with_who_and_when(
    house: House, tech: Actor, boss: Actor, opened: CaseFile
) -> None:
    steps.add_test(house, tech, opened.id, DROP, step_id="one")
    file = a_file(steps.add_test(house, boss, opened.id, replace(DROP, outcome="ok"), step_id="two"))
    assert [(step.stamp.id, step.stamp.by) for step in file.tests] == [("one", "Ivo"), ("two", "Mara")]
    assert file.tests[0].stamp.at < file.tests[1].stamp.at and file.updated >= file.tests[1].stamp.at


def test_a_value_beyond_its_hard_limits_is_kept(house: House, tech: Actor, opened: CaseFile) -> None:
    odd = kb.Reading("crank_v", 12_600.0, "V")
    file = a_file(steps.add_reading(house, tech, opened.id, odd))
    assert file.readings[-1].reading == odd


@pytest.mark.parametrize("unit", ["V", "mV", "volts"])
def test_any_unit_the_quantity_can_have_is_kept_as_given(
    house: House, tech: Actor, opened: CaseFile, unit: str
) -> None:
    file = a_file(steps.add_reading(house, tech, opened.id, replace(CRANKING, unit=unit)))
    assert file.readings[-1].reading.unit == unit


def test_the_same_step_again_is_one_step(house: House, tech: Actor, opened: CaseFile) -> None:
    first = steps.add_reading(house, tech, opened.id, CRANKING, step_id="r")
    assert steps.add_reading(house, tech, opened.id, CRANKING, step_id="r") == first
    with pytest.raises(AlreadyThere):
        steps.add_reading(house, tech, opened.id, AFTER, step_id="r")


def test_two_people_add_to_one_case_and_nothing_is_lost(
    house: House, tech: Actor, boss: Actor, opened: CaseFile
) -> None:
    for who, step in ((tech, "a"), (boss, "b"), (tech, "c")):
        steps.add_test(house, who, opened.id, DROP, step_id=step)
    assert [step.stamp.id for step in cases.get_case(house, tech, opened.id).tests] == ["a", "b", "c"]


def test_a_step_may_insist_on_the_revision_it_was_made_from(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    steps.add_part(house, tech, opened.id, CABLE, expected_revision=opened.revision)
    with pytest.raises(StaleRevision):
        steps.add_part(house, tech, opened.id, CABLE, expected_revision=opened.revision)


def test_the_result_of_a_part_is_told_later_and_the_sums_follow(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    part = kb.PartTried("starting.starter", "used", price=40.0)
    steps.add_part(house, tech, opened.id, part, step_id="p")
    changes = {"result": "no change", "charged": False, "note": "same click"}
    file = a_file(steps.amend_part(house, tech, opened.id, "p", changes=changes))
    assert file.parts[0].part == replace(part, result="no change", charged=False, note="same click")
    assert file.cost.parts == 0.0


def test_only_what_becomes_known_of_a_part_is_changed(house: House, tech: Actor, opened: CaseFile) -> None:
    steps.add_part(house, tech, opened.id, CABLE, step_id="p")
    with pytest.raises(BadValue) as refused:
        steps.amend_part(house, tech, opened.id, "p", changes={"component": "starting.starter"})
    assert refused.value.field == "component"
    with pytest.raises(BadValue, match="price"):
        steps.amend_part(house, tech, opened.id, "p", changes={"price": -1.0})


def test_one_step_is_undone(house: House, tech: Actor, opened: CaseFile) -> None:
    steps.add_part(house, tech, opened.id, CABLE, step_id="p")
    steps.add_test(house, tech, opened.id, DROP, step_id="t")
    file = a_file(steps.remove_step(house, tech, opened.id, "p"))
    assert (len(file.parts), len(file.tests), file.cost.parts) == (0, 1, 0.0)
    with pytest.raises(NotFound, match="step"):
        steps.remove_step(house, tech, opened.id, "p")


def test_a_late_after_reading_proves_a_closed_repair(house: House, tech: Actor, closed: CaseFile) -> None:
    assert not closed.verified
    assert a_file(steps.add_reading(house, tech, closed.id, CRANKING)).verified is False
    assert a_file(steps.add_reading(house, tech, closed.id, AFTER)).verified is True


def test_a_step_of_another_shops_case_is_not_found(house: House, stranger: Actor, opened: CaseFile) -> None:
    with pytest.raises(NotFound):
        steps.add_test(house, stranger, opened.id, DROP)


def test_money_that_came_with_a_file_stays_until_a_part_changes(
    house: House, boss: Actor, opened: CaseFile
) -> None:
    brought = replace(opened, id="brought", updated=opened.opened, cost=kb.Cost(labour=310.0, currency="EUR"))
    transfer.import_lines(house, boss, [b"x"], parse=lambda _: brought)
    steps.add_test(house, boss, "brought", DROP, step_id="t")
    steps.add_step(house, boss, "brought", kb.Skipped("crank_drop_pos"), step_id="s")
    file = a_file(steps.remove_step(house, boss, "brought", "t"))
    assert file.cost == brought.cost
    assert a_file(steps.add_part(house, boss, "brought", CABLE)).cost.parts == 18.0


def test_the_same_repair_again_is_one_and_another_of_its_id_is_refused(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    tried = kb.RepairTried("starting.ground_cable.high_resistance", "no change")
    first = steps.add_step(house, tech, opened.id, tried, step_id="r")
    assert steps.add_step(house, tech, opened.id, tried, step_id="r") == first
    with pytest.raises(AlreadyThere):
        steps.add_step(house, tech, opened.id, replace(tried, result="cured"), step_id="r")


def test_an_objection_cannot_be_changed_only_taken_back(house: House, tech: Actor, opened: CaseFile) -> None:
    said = kb.Objected("starting.starter.worn", "proved good")
    steps.add_step(house, tech, opened.id, said, step_id="o")
    with pytest.raises(BadValue):
        steps.amend_step(house, tech, opened.id, "o", kind=OBJECTION, changes={"because": "does not fit"})
    assert a_file(steps.remove_step(house, tech, opened.id, "o")).objections == ()
