"""A case from its opening to the advice another car gets from it, at the desk."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.service.house_fixtures import (
    AFTER,
    CABLE,
    CAUSE,
    CRANKING,
    DROP,
    LINNET,
    NEW_CABLE,
    a_case,
    a_file,
    keyed,
)

from baylore_kb import values as kb
from baylore_service.desk import advise, cases, close, feed, manager, steps
from baylore_service.desk.house import House
from baylore_service.errors import WrongRole
from baylore_service.store.records import Actor, CaseFile, Closing, New, Reopening

ASKED = kb.Complaint("just one click, will not crank after a drive", LINNET)


@pytest.fixture
def done(house: House, tech: Actor) -> CaseFile:
    """A job with a reading, a test, a part and an after-reading."""
    file = a_case(house, tech, "one click and nothing, mostly after a drive")
    steps.add_reading(house, tech, file.id, CRANKING)
    steps.add_test(house, tech, file.id, DROP)
    steps.add_part(house, tech, file.id, CABLE)
    ending = Closing(cause=CAUSE, correction=NEW_CABLE, confirmed_by="crank_drop_neg", readings=(New(AFTER),))
    return a_file(close.close_case(house, tech, file.id, ending))


def test_a_closed_case_answers_the_next_complaint_at_once(house: House, boss: Actor, done: CaseFile) -> None:
    advice = advise.advise(house, boss, ASKED)
    assert advice.cases[0].case.id == done.id and advice.cases[0].case.cause == CAUSE
    assert advice.causes[0].cause == CAUSE and advice.revision == feed.revision(house, boss)
    assert sum(row.probability for row in advice.causes) + advice.unlisted == pytest.approx(1.0, abs=1e-3)


def test_a_case_sent_twice_is_one_case_everywhere(house: House, boss: Actor) -> None:
    for _ in range(2):
        cases.open_case(house, boss, cases.CaseDraft("no heat at idle"), receipt=keyed("k"))
    found, _, _ = feed.changes(house, boss, after=0)
    assert len([change for change in found if change.kind == "case"]) == 1
    assert len(house.hosts.snapshot(boss.shop.id).cases) == 1


def test_a_kept_case_is_advised_without_itself(house: House, tech: Actor, done: CaseFile) -> None:
    assert done.id not in {match.case.id for match in advise.advise_case(house, tech, done.id).cases}


def test_a_comeback_lowers_what_the_old_repair_claims(house: House, tech: Actor, done: CaseFile) -> None:
    before = advise.advise(house, tech, ASKED)
    close.reopen_case(house, tech, done.id, Reopening())
    after = advise.advise(house, tech, ASKED)
    chance = {match.case.id: match.case.verified for match in after.cases}
    assert chance[done.id] is False and before.cases[0].case.verified


def test_advice_keeps_to_the_skill_of_who_asks(house: House, tech: Actor) -> None:
    novice = replace(tech, member=replace(tech.member, skill=1))
    hard = [test for test in advise.advise(house, novice, ASKED).tests if test.skill > 1]
    assert all(not test.allowed for test in hard)


def test_a_reading_is_judged_on_the_spot(house: House, tech: Actor) -> None:
    rested = kb.Reading("batt_rest", 11.9, "V")
    judged = advise.judge(house, tech, [rested, CRANKING])
    assert [row.reading for row in judged] == [rested, CRANKING] and judged[0].good is False


def test_managers_see_what_keeps_failing_and_all_see_which_parts_cure(
    house: House, tech: Actor, boss: Actor, done: CaseFile
) -> None:
    found = manager.parts(house, tech, "starting.ground_cable")
    assert [(source.source, source.tried, source.cured) for source in found[0].sources] == [
        ("own stock", 1, 1)
    ]
    assert manager.recurrences(house, boss, manager.Question(("model", "system"), least=1)).cases == 1
    with pytest.raises(WrongRole):
        manager.recurrences(house, tech, manager.Question(("model", "system")))
