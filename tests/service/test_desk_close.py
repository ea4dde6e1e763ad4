"""Closing a case, and what happens when the car comes back."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.service.house_fixtures import AFTER, CABLE, CAUSE, DROP, NEW_CABLE, a_case, a_file, keyed

from baylore_kb import values as kb
from baylore_service.desk import cases, close, feed, steps
from baylore_service.desk.house import House
from baylore_service.errors import AlreadyClosed, BadValue, NotClosed, NotFound
from baylore_service.store.records import Actor, CaseFile, Closing, New, OwnCause, Reopening


def ended(house: House, actor: Actor, file: CaseFile, **fields: object) -> CaseFile:
    """The case after closing."""
    return a_file(close.close_case(house, actor, file.id, Closing(**fields)))  # type: ignore[arg-type]


def test_a_closed_case_knows_its_cause_its_sums_and_its_note(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    steps.add_test(house, tech, opened.id, DROP)
    steps.add_part(
        house, tech, opened.id, kb.PartTried("starting.starter", "used", "no change", 40.0, charged=False)
    )
    steps.add_part(house, tech, opened.id, CABLE)
    minutes = kb.Labour(repair_min=33.0, not_billed_min=7.0)
    file = ended(house, tech, opened, cause=CAUSE, correction=NEW_CABLE, labour=minutes, other_cost=2.5)
    assert (file.state, file.cause_system, file.cause_title) == (
        "closed",
        "starting",
        house.trade.causes[CAUSE].title,
    )
    assert file.labour == kb.Labour(4.0, 33.0, 7.0, 95.0)
    assert (
        file.cost == kb.Cost(parts=18.0, labour=47.5, other=2.5, currency="EUR") and file.cost.total == 68.0
    )
    assert "Did not cure: starter" in file.note and file.title.startswith("one click and nothing: ")
    assert (
        file.closed is not None
        and file.closed >= file.opened
        and cases.get_case(house, tech, file.id) == file
    )


@pytest.mark.parametrize(
    ("fields", "verified"),
    [
        ({}, False),
        ({"readings": (New(AFTER),)}, True),
        ({"verification": "ten hot starts"}, True),
        ({"verification": "ten hot starts", "verified": False}, False),
        ({"verified": True}, True),
    ],
)
def test_a_repair_is_verified_by_a_reading_or_by_words(
    house: House, tech: Actor, opened: CaseFile, fields: dict[str, object], verified: bool
) -> None:
    assert ended(house, tech, opened, cause=CAUSE, **fields).verified is verified


def test_a_cause_in_ones_own_words_can_be_named_again_by_its_id(house: House, tech: Actor) -> None:
    own = OwnCause("Mouse nest on the harness", component="starting.starter")
    file = ended(house, tech, a_case(house, tech), own_cause=own)
    assert (file.cause, file.cause_system) == ("own.mouse_nest_on_the_harness", "starting")
    again = ended(house, tech, a_case(house, tech), cause=file.cause)
    assert (again.cause_title, again.cause_system) == (file.cause_title, "starting")


def test_an_own_cause_of_another_shop_is_not_known_here(house: House, tech: Actor, stranger: Actor) -> None:
    ended(house, stranger, a_case(house, stranger), own_cause=OwnCause("Mouse nest"))
    with pytest.raises(BadValue) as refused:
        ended(house, tech, a_case(house, tech), cause="own.mouse_nest")
    assert refused.value.field == "cause" and "own_cause" in refused.value.remedy


def test_not_found_is_a_result_too(house: House, tech: Actor, opened: CaseFile) -> None:
    file = ended(house, tech, opened, unresolved="no fault found", verification="ran all day")
    assert (file.state, file.cause, file.unresolved_reason) == ("unresolved", None, "no fault found")
    assert not file.verified and "Not solved: no fault found" in file.note


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({}, "cause"),
        ({"cause": "starting.nothing"}, "cause"),
        ({"cause": CAUSE, "unresolved": "declined"}, "unresolved"),
        ({"cause": CAUSE, "own_cause": OwnCause("x")}, "own_cause"),
        ({"own_cause": OwnCause("!")}, "own_cause.title"),
        ({"own_cause": OwnCause("nest", system="strating")}, "own_cause.system"),
        ({"cause": CAUSE, "confirmed_by": "crank_drop"}, "confirmed_by"),
        ({"cause": CAUSE, "correction": kb.Correction("replace", "flux")}, "correction.component"),
        ({"cause": CAUSE, "other_cost": -1.0}, "other_cost"),
        ({"cause": CAUSE, "labour": kb.Labour(repair_min=-1.0)}, "labour.repair_min"),
        ({"cause": CAUSE, "readings": (New(replace(AFTER, unit="psi")),)}, "readings[0].unit"),
        ({"cause": CAUSE, "note": "x" * 9000}, "note"),
    ],
)
def test_a_closing_that_cannot_be_names_its_field_and_leaves_the_case_open(
    house: House, tech: Actor, opened: CaseFile, fields: dict[str, object], field: str
) -> None:
    with pytest.raises(BadValue) as refused:
        ended(house, tech, opened, **fields)
    assert refused.value.field == field
    assert cases.get_case(house, tech, opened.id) == opened


def test_the_same_closing_again_changes_nothing(house: House, tech: Actor, opened: CaseFile) -> None:
    fields = {
        "cause": CAUSE,
        "correction": NEW_CABLE,
        "readings": (New(AFTER),),
        "labour": kb.Labour(5.0, 6.0),
    }
    file = ended(house, tech, opened, **fields)
    assert ended(house, tech, opened, **fields) == file
    assert feed.revision(house, tech) == file.revision


@pytest.mark.parametrize(
    "fields",
    [
        {"cause": "charging.battery.weak"},
        {"cause": CAUSE, "verification": "other"},
        {"unresolved": "declined"},
    ],
)
def test_another_closing_of_a_closed_case_is_refused(
    house: House, tech: Actor, opened: CaseFile, fields: dict[str, object]
) -> None:
    ended(house, tech, opened, cause=CAUSE)
    with pytest.raises(AlreadyClosed, match=opened.id):
        ended(house, tech, opened, **fields)


def test_a_given_note_and_title_are_kept_as_they_are(house: House, tech: Actor, opened: CaseFile) -> None:
    file = ended(house, tech, opened, cause=CAUSE, note="green cable again", title="The Linnet")
    assert (file.note, file.title) == ("green cable again", "The Linnet")


def test_a_comeback_opens_a_new_case_and_the_old_one_claims_no_cure(
    house: House, tech: Actor, closed: CaseFile
) -> None:
    back = Reopening(vehicle={"odometer": kb.Measure(141_900.0, "km")}, note="three weeks later")
    new = a_file(close.reopen_case(house, tech, closed.id, back))
    old = cases.get_case(house, tech, closed.id)
    assert (new.state, new.comeback_of, new.complaint_text) == ("open", closed.id, closed.complaint_text)
    assert new.vehicle == replace(closed.vehicle, odometer=kb.Measure(141_900.0, "km"))
    assert (old.returned_as, old.verified, old.state) == ((new.id,), False, "closed")
    late = a_file(steps.add_reading(house, tech, closed.id, AFTER))
    assert late.verified is False


def test_an_open_case_needs_no_reopening(house: House, tech: Actor, opened: CaseFile) -> None:
    with pytest.raises(NotClosed):
        close.reopen_case(house, tech, opened.id, Reopening())


def test_a_reopening_under_its_key_opens_one_case(house: House, tech: Actor, closed: CaseFile) -> None:
    first = close.reopen_case(house, tech, closed.id, Reopening(), receipt=keyed("k"))
    again = close.reopen_case(house, tech, closed.id, Reopening(), receipt=keyed("k"))
    assert first.body == again.body and len(cases.get_case(house, tech, closed.id).returned_as) == 1  # type: ignore[union-attr]


def test_a_deleted_comeback_leaves_no_link_behind(house: House, boss: Actor, closed: CaseFile) -> None:
    new = a_file(close.reopen_case(house, boss, closed.id, Reopening()))
    cases.delete_case(house, boss, new.id, expected_revision=None)
    assert cases.get_case(house, boss, closed.id).returned_as == ()


def test_a_case_of_another_shop_is_neither_closed_nor_reopened(
    house: House, stranger: Actor, closed: CaseFile
) -> None:
    with pytest.raises(NotFound):
        ended(house, stranger, closed, cause=CAUSE)
    with pytest.raises(NotFound):
        close.reopen_case(house, stranger, closed.id, Reopening())


def test_an_unresolved_case_gets_its_cause_later_and_keeps_what_was_tried(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    steps.add_test(house, tech, opened.id, DROP)
    steps.add_part(house, tech, opened.id, kb.PartTried("starting.starter", "used", "no change", 40.0))
    left = ended(house, tech, opened, unresolved="referred", note="sent to the dealer", other_cost=12.0)
    steps.add_test(house, tech, opened.id, replace(DROP, minutes=9.0))
    found = ended(house, tech, left, cause=CAUSE, correction=NEW_CABLE, verification="ten hot starts")
    assert (found.id, found.state, found.cause, found.verified) == (opened.id, "closed", CAUSE, True)
    assert (found.unresolved_reason, found.comeback_of, found.returned_as) == (None, None, ())
    assert (len(found.tests), len(found.parts), found.labour.diagnosis_min) == (2, 1, 13.0)
    assert found.cost == kb.Cost(parts=40.0, labour=found.cost.labour, other=12.0, currency="EUR")
    assert found.closed is not None and left.closed is not None and found.closed > left.closed


def test_the_note_of_a_late_cause_tells_it_and_what_was_said_before(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    drafted = ended(house, tech, opened, unresolved="no fault found")
    assert "Not solved: no fault found." in drafted.note and drafted.title.endswith(": no fault found")
    found = ended(house, tech, drafted, cause=CAUSE)
    assert "Not solved" not in found.note and found.note.count("Complaint: ") == 1
    assert (
        found.title
        == f"one click and nothing: {house.trade.causes[CAUSE].title[0].lower()}"
        + (house.trade.causes[CAUSE].title[1:])
    )
    told = ended(house, tech, a_case(house, tech), unresolved="declined", note="asks for a quote first")
    assert "Also: asks for a quote first." in ended(house, tech, told, cause=CAUSE).note


def test_another_reason_for_an_unresolved_case_is_still_a_conflict(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    left = ended(house, tech, opened, unresolved="declined")
    assert ended(house, tech, left, unresolved="declined") == left
    with pytest.raises(AlreadyClosed):
        ended(house, tech, left, unresolved="referred")


def test_a_late_cause_of_a_car_that_came_back_claims_no_cure(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    left = ended(house, tech, opened, unresolved="no fault found")
    close.reopen_case(house, tech, left.id, Reopening("same again"))
    assert ended(house, tech, left, cause=CAUSE, verification="ran it").verified is False


def test_a_drafted_note_follows_what_is_learned_of_a_part_later(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    steps.add_part(house, tech, opened.id, kb.PartTried("starting.starter", "used"), step_id="p")
    file = ended(house, tech, opened, cause=CAUSE, correction=NEW_CABLE)
    assert "Did not cure" not in file.note
    later = a_file(steps.amend_part(house, tech, file.id, "p", changes={"result": "failed later"}))
    assert "Did not cure: starter motor from used: failed later." in later.note


def test_a_note_in_a_members_own_words_stays_as_it_is(house: House, tech: Actor, opened: CaseFile) -> None:
    steps.add_part(house, tech, opened.id, kb.PartTried("starting.starter", "used"), step_id="p")
    file = ended(house, tech, opened, cause=CAUSE, note="cable, of course")
    later = a_file(steps.amend_part(house, tech, file.id, "p", changes={"result": "no change"}))
    assert later.note == "cable, of course"
