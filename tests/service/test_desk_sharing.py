"""Shops of one service share cases: both agree, people stay out, and what is taken back is gone."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from tests.service.house_fixtures import CABLE, CAUSE, DROP, LINNET, NEW_CABLE, a_case

from baylore_kb.values import Complaint
from baylore_service.desk import cases, close, sharing, shops, steps
from baylore_service.desk.house import House
from baylore_service.errors import NotClosed, NotFound, NotSharing, StaleRevision
from baylore_service.store import shared as pool
from baylore_service.store.records import Actor, CaseFile, Closing

SAID = "one click and nothing, lamps stay bright, owner 0664 123 45 67, told Solvey"
ASKED = Complaint("one click and nothing, lamps bright", vehicle=LINNET)


def agreeing(house: House, actor: Actor) -> Actor:
    """The actor once the shop shares."""
    return replace(actor, shop=shops.amend_shop(house, actor, {"shares": True}))


@pytest.fixture
def ours(house: House, boss: Actor) -> Actor:
    return agreeing(house, boss)


@pytest.fixture
def theirs(house: House, stranger: Actor) -> Actor:
    return agreeing(house, stranger)


@pytest.fixture
def solved(house: House, ours: Actor, join: Callable[..., Actor]) -> CaseFile:
    """A closed case of our shop with people in its words."""
    join(ours.shop.id, "technician", "Ina Solvey")
    car = replace(LINNET, vin="1M8GDM9AXKP042788")
    case = a_case(house, ours, SAID, vehicle=car, note="do not tell the owner")
    steps.add_test(house, ours, case.id, replace(DROP, note="held by Solvey"))
    steps.add_part(house, ours, case.id, CABLE)
    close.close_case(house, ours, case.id, Closing(cause=CAUSE, correction=NEW_CABLE))
    return cases.get_case(house, ours, case.id)


def shared(house: House, actor: Actor, file: CaseFile) -> sharing.Preview:
    return sharing.share(house, actor, file.id, seen_revision=file.revision)


def test_what_is_seen_before_sharing_holds_no_person_price_note_or_day(
    house: House, ours: Actor, solved: CaseFile
) -> None:
    seen = sharing.preview(house, ours, solved.id)
    text = repr(seen.case)
    for private in ("0664", "Solvey", "042788", "do not tell", ours.member.name, "18.0", solved.id):
        assert private not in text
    assert {each.blanked.kind for each in seen.taken} == {"phone", "name"} and seen.sharing is None
    assert seen.case.vehicle.vin == "1M8GDM9AXKP" and seen.case.opened.day == 1
    assert seen.case.cause == CAUSE and seen.case.tests[0].test.outcome == DROP.outcome


def test_another_shop_that_shares_finds_the_case_and_its_own_shop_does_not(
    house: House, ours: Actor, theirs: Actor, solved: CaseFile
) -> None:
    assert sharing.elsewhere(house, theirs, ASKED) == ()
    shared(house, ours, solved)
    (match,) = sharing.elsewhere(house, theirs, ASKED)
    assert match.case.cause == CAUSE and match.case.id != solved.id and "Solvey" not in repr(match)
    assert sharing.elsewhere(house, ours, ASKED) == ()
    with pytest.raises(NotFound):
        cases.get_case(house, theirs, match.case.id)


def test_only_who_shares_asks_and_shares(
    house: House, boss: Actor, stranger: Actor, solved: CaseFile
) -> None:
    for act in (
        lambda: sharing.elsewhere(house, stranger, ASKED),
        lambda: sharing.preview(house, boss, solved.id),
        lambda: shared(house, boss, solved),
    ):
        with pytest.raises(NotSharing):
            act()


def test_what_is_taken_back_is_gone_at_the_next_question(
    house: House, ours: Actor, theirs: Actor, solved: CaseFile
) -> None:
    shared(house, ours, solved)
    sharing.elsewhere(house, theirs, ASKED)
    sharing.withdraw(house, ours, solved.id)
    assert sharing.elsewhere(house, theirs, ASKED) == ()
    assert sharing.preview(house, ours, solved.id).sharing is None
    shared(house, ours, solved)
    assert len(sharing.elsewhere(house, theirs, ASKED)) == 1


@pytest.mark.parametrize("how", ["the shop leaves", "the case is deleted"])
def test_nothing_stays_behind(house: House, ours: Actor, theirs: Actor, solved: CaseFile, how: str) -> None:
    shared(house, ours, solved)
    assert sharing.elsewhere(house, theirs, ASKED)
    if how == "the shop leaves":
        shops.amend_shop(house, ours, {"shares": False})
    else:
        cases.delete_case(house, ours, solved.id, expected_revision=None)
    assert sharing.elsewhere(house, theirs, ASKED) == ()


def test_a_shop_that_leaves_takes_all_back_at_once_and_no_others(
    house: House, ours: Actor, theirs: Actor, solved: CaseFile
) -> None:
    def one_more(actor: Actor) -> CaseFile:
        case = a_case(house, actor, SAID, vehicle=LINNET)
        close.close_case(house, actor, case.id, Closing(cause=CAUSE, correction=NEW_CABLE))
        return cases.get_case(house, actor, case.id)

    for actor, file in [(ours, solved), *((who, one_more(who)) for who in (ours, ours, theirs))]:
        shared(house, actor, file)
    assert len(house.pool.pool().shops) == 4
    with house.store.read() as work:
        before = pool.latest(work)
    shops.amend_shop(house, ours, {"shares": False})
    assert set(house.pool.pool().shops.values()) == {theirs.shop.id}
    with house.store.read() as work:
        assert pool.latest(work) == before + 1
    shops.amend_shop(house, ours, {"shares": False})
    with house.store.read() as work:
        assert pool.latest(work) == before + 1


def test_only_what_was_looked_at_is_shared(house: House, ours: Actor, solved: CaseFile) -> None:
    with pytest.raises(StaleRevision):
        sharing.share(house, ours, solved.id, seen_revision=solved.revision - 1)
    shared(house, ours, solved)
    said = {"complaint_text": "one click, call 0664 765 43 21"}
    cases.amend_case(house, ours, solved.id, said, expected_revision=None)
    seen = sharing.preview(house, ours, solved.id)
    assert seen.changed_since and "0664" not in seen.case.complaint_text


def test_an_open_case_and_one_of_another_shop_cannot_be_shared(
    house: House, ours: Actor, theirs: Actor, solved: CaseFile
) -> None:
    with pytest.raises(NotClosed):
        sharing.preview(house, ours, a_case(house, ours).id)
    with pytest.raises(NotFound):
        shared(house, theirs, solved)


def test_a_new_process_sees_the_same_pool(house: House, ours: Actor, theirs: Actor, solved: CaseFile) -> None:
    shared(house, ours, solved)
    found = sharing.elsewhere(house, theirs, ASKED)
    other = House.open(house.settings)
    assert sharing.elsewhere(other, theirs, ASKED) == found
    other.close()
