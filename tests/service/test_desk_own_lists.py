"""The shop's own tests, causes and minutes: added, used at once, changed, taken off."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.service.house_fixtures import a_case, a_file

from baylore_kb.trade.own import OwnCause, OwnTest
from baylore_kb.values import Complaint, Labour, TestDone
from baylore_service.desk import advise, cases, close, feed, own_lists, steps
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.errors import AlreadyThere, BadValue, InUse, KeyReused, NotFound, WrongRole
from baylore_service.store.records import Actor, CaseFile, Closing, Kept, Receipt
from baylore_service.store.records import OwnCause as OwnWords

WET = "footwell wet, carpet soaked after rain"
JOINT = OwnCause("", "Carpet joint corroded", "body_elec", ("water_in_body",), 45.0)
JOINT_ID = "own.carpet_joint_corroded"
PULL = OwnTest("", "Pull the carpet, feel the joint", "body_elec", 6.0, (JOINT_ID,))
PULL_ID = "own.pull_the_carpet_feel_the_joint"
CRANK = "crank_drop_pos"


@pytest.fixture
def listed(house: House, tech: Actor) -> None:
    """A shop with a cause and a test of its own."""
    own_lists.add_cause(house, tech, JOINT)
    own_lists.add_test(house, tech, PULL)


def keyed(key: str, digest: str = "same") -> Receipt:
    """What to keep of a request."""
    return Receipt(key, digest, lambda listed: listed.record.id.encode())


def offered(house: House, actor: Actor) -> list[str]:
    """The tests offered for the wet footwell."""
    return [row.test for row in advise.advise(house, actor, Complaint(WET)).tests]


def test_a_test_is_offered_from_the_next_question_on(house: House, tech: Actor) -> None:
    before = offered(house, tech)
    own_lists.add_cause(house, tech, JOINT)
    own_lists.add_test(house, tech, PULL)
    assert PULL_ID not in before and PULL_ID in offered(house, tech)


def test_another_shop_is_not_offered_it(house: House, stranger: Actor, listed: None) -> None:
    assert PULL_ID not in offered(house, stranger)
    assert house.trade_of(stranger) is house.trade


def test_a_case_is_worked_and_closed_with_what_the_shop_added(
    house: House, tech: Actor, listed: None
) -> None:
    case = a_case(house, tech, WET)
    steps.add_test(house, tech, case.id, TestDone(PULL_ID, "found", minutes=9.0))
    done = a_file(close.close_case(house, tech, case.id, Closing(cause=JOINT_ID, confirmed_by=PULL_ID)))
    assert (done.cause_title, done.cause_system) == ("Carpet joint corroded", "body_elec")
    assert "pull the carpet, feel the joint: found" in done.note and done.labour.diagnosis_min == 9.0


def test_a_cause_gets_the_id_that_cases_in_the_same_words_have(house: House, tech: Actor) -> None:
    case = a_case(house, tech, WET)
    words = OwnWords("Carpet joint corroded", "body_elec")
    closed = a_file(close.close_case(house, tech, case.id, Closing(own_cause=words)))
    made = own_lists.add_cause(house, tech, JOINT)
    assert isinstance(made, own_lists.Listed) and made.record.id == closed.cause == JOINT_ID
    row = next(row for row in advise.advise(house, tech, Complaint(WET)).causes if row.cause == JOINT_ID)
    assert row.cases == 1 and row.system == "body_elec"


def test_the_index_that_follows_equals_one_built_anew(house: House, tech: Actor, closed: CaseFile) -> None:
    house.hosts.snapshot(tech.shop.id)
    own_lists.add_cause(house, tech, JOINT)
    own_lists.add_test(house, tech, PULL)
    assert verify(house).good


def test_a_change_of_the_lists_is_in_the_change_log(
    house: House, tech: Actor, boss: Actor, listed: None
) -> None:
    own_lists.remove_test(house, boss, PULL_ID)
    told, _, _ = feed.changes(house, tech, after=0)
    assert [(each.id, each.op) for each in told if each.kind == "trade"] == [
        (JOINT_ID, "put"),
        (PULL_ID, "put"),
        (PULL_ID, "delete"),
    ]


def test_the_shops_minutes_of_a_listed_test_are_reckoned_with(house: House, tech: Actor) -> None:
    def minutes() -> float:
        rows = advise.advise(house, tech, Complaint("one click, no crank")).tests
        return next(row.minutes for row in rows if row.test == CRANK)

    listed = minutes()
    own_lists.amend_test(house, tech, CRANK, {"minutes": listed + 2.0})
    ours = minutes()
    own_lists.amend_test(house, tech, CRANK, {"minutes": None})
    assert ours == listed + 2.0 and minutes() == listed


def test_minutes_that_were_recorded_replace_those_listed_bit_by_bit(house: House, tech: Actor) -> None:
    def minutes() -> float:
        rows = advise.advise(house, tech, Complaint("one click, no crank")).tests
        return next(row.minutes for row in rows if row.test == CRANK)

    seen = [minutes()]
    for _ in range(3):
        case = a_case(house, tech, "one click, no crank")
        steps.add_test(house, tech, case.id, TestDone(CRANK, "high", minutes=40.0))
        ending = Closing(cause="starting.b_cable.high_resistance", verified=True, labour=Labour())
        close.close_case(house, tech, case.id, ending)
        seen.append(minutes())
    assert seen == sorted(seen) and seen[0] < seen[1] < seen[3] < 40.0


def test_nothing_else_of_a_listed_test_can_be_changed(house: House, tech: Actor) -> None:
    with pytest.raises(BadValue, match="only its minutes") as refused:
        own_lists.amend_test(house, tech, CRANK, {"title": "Other"})
    assert refused.value.field == "title"


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"title": "  "}, "title"),
        ({"title": "?!"}, "title"),
        ({"title": "x" * 201}, "title"),
        ({"title": "Pull\0it"}, "title"),
        ({"system": "carpets"}, "system"),
        ({"minutes": 0.5}, "minutes"),
        ({"minutes": 10_000.0}, "minutes"),
        ({"points_at": ()}, "points_at"),
        ({"points_at": ("body_elec.seal.leaking", "body_elec.seal.leeking")}, "points_at[1]"),
        ({"points_at": ("own.never_added",)}, "points_at[0]"),
        ({"for_symptoms": ("wet_feet",)}, "for_symptoms[0]"),
        ({"skill": 5}, "skill"),
        ({"steps": ("Lift it", " ")}, "steps[1]"),
    ],
)
def test_a_test_that_cannot_be_is_refused_by_its_field(
    house: House, tech: Actor, listed: None, change: dict[str, object], field: str
) -> None:
    with pytest.raises(BadValue) as refused:
        own_lists.add_test(house, tech, replace(PULL, **{"title": "Another look"} | change))
    assert refused.value.field == field and refused.value.remedy


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"symptoms": ()}, "symptoms"),
        ({"component": "body_elec.carpet"}, "component"),
        ({"confirm_test": "own.not_there"}, "confirm_test"),
        ({"only_if": ("amphibious",)}, "only_if[0]"),
        ({"minutes": 0.0}, "minutes"),
    ],
)
def test_a_cause_that_cannot_be_is_refused_by_its_field(
    house: House, tech: Actor, change: dict[str, object], field: str
) -> None:
    with pytest.raises(BadValue) as refused:
        own_lists.add_cause(house, tech, replace(JOINT, **change))
    assert refused.value.field == field and refused.value.remedy


def test_a_title_that_is_listed_is_refused_with_the_id_to_use(house: House, tech: Actor) -> None:
    title = house.trade.tests[CRANK].title
    with pytest.raises(BadValue, match="is listed") as refused:
        own_lists.add_test(
            house, tech, replace(PULL, points_at=("body_elec.seal.leaking",), title=title.upper())
        )
    assert CRANK in refused.value.remedy


def test_the_same_test_twice_is_there_already(house: House, tech: Actor, listed: None) -> None:
    with pytest.raises(AlreadyThere, match=PULL_ID):
        own_lists.add_test(house, tech, replace(PULL, minutes=8.0))


def test_a_request_sent_twice_is_kept_once(house: House, tech: Actor) -> None:
    own_lists.add_cause(house, tech, JOINT)
    first = own_lists.add_test(house, tech, PULL, receipt=keyed("k"))
    latest = feed.revision(house, tech)
    again = own_lists.add_test(house, tech, PULL, receipt=keyed("k"))
    assert isinstance(first, Kept) and isinstance(again, Kept)
    assert again.replayed and again.body == first.body and feed.revision(house, tech) == latest
    with pytest.raises(KeyReused):
        own_lists.add_test(house, tech, replace(PULL, minutes=7.0), receipt=keyed("k", "other"))


def test_a_changed_title_keeps_the_id(house: House, tech: Actor, listed: None) -> None:
    own_lists.amend_test(house, tech, PULL_ID, {"title": "Lift the carpet", "minutes": 11.0})
    record = house.trade_of(tech).tests[PULL_ID]
    assert (record.title, record.do_min) == ("Lift the carpet", 11.0)


def test_only_managers_take_entries_off(house: House, tech: Actor, listed: None) -> None:
    for remove, id in ((own_lists.remove_test, PULL_ID), (own_lists.remove_cause, JOINT_ID)):
        with pytest.raises(WrongRole):
            remove(house, tech, id)


def test_a_cause_that_a_test_points_at_stays(house: House, boss: Actor, listed: None) -> None:
    with pytest.raises(InUse, match=PULL_ID):
        own_lists.remove_cause(house, boss, JOINT_ID)
    own_lists.remove_test(house, boss, PULL_ID)
    own_lists.remove_cause(house, boss, JOINT_ID)
    assert house.trade_of(boss) is house.trade


def test_a_test_that_cases_did_is_only_no_longer_offered(house: House, boss: Actor, listed: None) -> None:
    case = a_case(house, boss, WET)
    steps.add_test(house, boss, case.id, TestDone(PULL_ID, "not_found"))
    own_lists.remove_test(house, boss, PULL_ID)
    assert PULL_ID not in offered(house, boss)
    assert cases.get_case(house, boss, case.id).tests[0].test.test == PULL_ID
    steps.add_test(house, boss, case.id, TestDone(PULL_ID, "found"))
    own_lists.add_test(house, boss, PULL)
    assert PULL_ID in offered(house, boss)


def test_listed_entries_cannot_be_taken_off(house: House, boss: Actor) -> None:
    with pytest.raises(NotFound):
        own_lists.remove_test(house, boss, CRANK)
    with pytest.raises(NotFound):
        own_lists.remove_cause(house, boss, "body_elec.seal.leaking")


def test_another_process_follows_a_change_of_the_lists(house: House, tech: Actor) -> None:
    other = House.open(house.settings, clock=house.now)
    first = other.hosts.snapshot(tech.shop.id)
    own_lists.add_cause(house, tech, JOINT)
    own_lists.add_test(house, tech, PULL)
    assert PULL_ID in offered(other, tech) and PULL_ID in other.trade_of(tech).tests
    assert PULL_ID not in first.trade.tests
    assert other.hosts.snapshot(tech.shop.id).trade is other.trade_of(tech)
    other.close()


def test_cases_alone_leave_the_lists_as_they_are(house: House, tech: Actor, listed: None) -> None:
    trade = house.trade_of(tech)
    a_case(house, tech)
    assert house.trade_of(tech) is trade and house.hosts.snapshot(tech.shop.id).trade is trade
