"""Cases at the desk: opened, read, changed, deleted."""

from __future__ import annotations

import pytest
from tests.service.house_fixtures import CABLE, CAUSE, CRANKING, DROP, a_case, a_file

from baylore_kb.values import Labour, Vehicle
from baylore_service.desk import cases, feed
from baylore_service.desk.house import House
from baylore_service.errors import AlreadyThere, BadValue, NotFound, StaleRevision, WrongRole
from baylore_service.store.records import Actor, CaseDraft, CaseFile, New


def test_a_case_is_opened_with_all_that_is_known(house: House, tech: Actor) -> None:
    file = a_case(
        house,
        tech,
        codes=("p 0301",),
        readings=(New(CRANKING, "r1"),),
        tests=(New(DROP),),
        parts=(New(CABLE),),
    )
    assert cases.get_case(house, tech, file.id) == file
    assert (file.state, file.by, file.codes) == ("open", "Ivo", ("P0301",))
    assert file.readings[0].stamp.id == "r1" and file.readings[0].stamp.by == "Ivo"
    assert file.title == "one click and nothing"


def test_an_id_of_the_phone_is_taken_once(house: House, tech: Actor) -> None:
    file = a_case(house, tech, id="made-on-the-phone")
    assert file.id == "made-on-the-phone"
    with pytest.raises(AlreadyThere):
        a_case(house, tech, id="made-on-the-phone")


def test_another_shop_may_have_the_same_id_and_sees_nothing(
    house: House, opened: CaseFile, stranger: Actor
) -> None:
    with pytest.raises(NotFound):
        cases.get_case(house, stranger, opened.id)
    assert a_case(house, stranger, id=opened.id).id == opened.id


def test_only_named_fields_change(house: House, tech: Actor, opened: CaseFile) -> None:
    changes = {
        "vehicle": {"engine": "1.4 petrol"},
        "note": "since the jump start",
        "labour": {"repair_min": 30.0},
    }
    after = a_file(cases.amend_case(house, tech, opened.id, changes, expected_revision=opened.revision))
    assert after.vehicle == Vehicle(2011, "Tarrow", "Linnet", "1.4 petrol")
    assert after.note == "since the jump start" and after.complaint_text == opened.complaint_text
    assert after.labour == Labour(repair_min=30.0, rate_per_hour=95.0) and after.cost.labour == 47.5


def test_none_sets_a_field_back(house: House, tech: Actor) -> None:
    file = a_case(house, tech, symptoms=("no_crank_click",), comes_and_goes=True)
    changes = {"symptoms": None, "comes_and_goes": None, "vehicle": None}
    after = a_file(cases.amend_case(house, tech, file.id, changes, expected_revision=None))
    assert (after.symptoms, after.comes_and_goes, after.vehicle) == ((), False, Vehicle())


def test_a_change_that_changes_nothing_makes_no_revision(house: House, tech: Actor, opened: CaseFile) -> None:
    changes = {"complaint_text": opened.complaint_text}
    after = a_file(cases.amend_case(house, tech, opened.id, changes, expected_revision=None))
    assert after == opened and feed.revision(house, tech) == opened.revision


def test_a_change_of_an_older_case_is_refused_and_says_the_newer(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    cases.amend_case(house, tech, opened.id, {"note": "one"}, expected_revision=opened.revision)
    with pytest.raises(StaleRevision) as refused:
        cases.amend_case(house, tech, opened.id, {"note": "two"}, expected_revision=opened.revision)
    assert refused.value.current == opened.revision + 1
    assert cases.get_case(house, tech, opened.id).note == "one"


def test_a_drafted_title_follows_the_complaint_and_a_chosen_one_stays(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    changes = {"complaint_text": "cranks slowly. Cold only"}
    drafted = a_file(cases.amend_case(house, tech, opened.id, changes, expected_revision=None))
    chosen = a_file(
        cases.amend_case(house, tech, opened.id, {"title": "the blue one"}, expected_revision=None)
    )
    kept = a_file(
        cases.amend_case(house, tech, opened.id, {"complaint_text": "no crank"}, expected_revision=None)
    )
    assert [drafted.title, chosen.title, kept.title] == ["cranks slowly", "the blue one", "the blue one"]


def test_a_closed_case_takes_another_cause_but_never_none(
    house: House, tech: Actor, closed: CaseFile
) -> None:
    after = a_file(
        cases.amend_case(house, tech, closed.id, {"cause": "charging.battery.weak"}, expected_revision=None)
    )
    assert (after.cause_system, after.cause_title) == (
        "charging",
        house.trade.causes["charging.battery.weak"].title,
    )
    own = a_file(
        cases.amend_case(house, tech, closed.id, {"cause": "own.chewed_cable"}, expected_revision=None)
    )
    assert own.cause_title == "chewed cable"
    with pytest.raises(BadValue) as refused:
        cases.amend_case(house, tech, closed.id, {"cause": None}, expected_revision=None)
    assert refused.value.field == "cause"


def test_an_open_case_is_not_given_a_cause_by_the_way(house: House, tech: Actor, opened: CaseFile) -> None:
    with pytest.raises(BadValue, match="cause"):
        cases.amend_case(house, tech, opened.id, {"cause": CAUSE}, expected_revision=None)


@pytest.mark.parametrize("field", ["state", "id", "revision", "cost", "closed", "nonsense"])
def test_fields_that_are_worked_out_are_not_set(
    house: House, tech: Actor, opened: CaseFile, field: str
) -> None:
    with pytest.raises(BadValue) as refused:
        cases.amend_case(house, tech, opened.id, {field: "x"}, expected_revision=None)
    assert refused.value.field == field and "complaint_text" in refused.value.remedy


def test_a_manager_deletes_and_nobody_finds_it(
    house: House, boss: Actor, tech: Actor, opened: CaseFile
) -> None:
    with pytest.raises(WrongRole):
        cases.delete_case(house, tech, opened.id, expected_revision=None)
    cases.delete_case(house, boss, opened.id, expected_revision=opened.revision)
    with pytest.raises(NotFound):
        cases.get_case(house, boss, opened.id)


def test_a_shop_cannot_delete_what_is_not_its_own(house: House, stranger: Actor, opened: CaseFile) -> None:
    with pytest.raises(NotFound):
        cases.delete_case(house, stranger, opened.id, expected_revision=None)


def test_an_odd_but_honest_case_is_kept(house: House, tech: Actor) -> None:
    odd = "‘двигатель’ стучит 🔧 " + "x" * 3900
    assert a_file(cases.open_case(house, tech, CaseDraft(odd))).complaint_text == odd.strip()
