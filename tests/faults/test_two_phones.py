"""Two phones at once."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from threading import Barrier
from typing import TypeVar

from tests.service.house_fixtures import CAUSE, DROP, keyed

from baylore_kb.values import Complaint
from baylore_service.desk import advise, cases, close, members, steps
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.desk.twins import Closed
from baylore_service.errors import AlreadyClosed, CodeRefused, ServiceError, StaleRevision
from baylore_service.store.records import Actor, CaseDraft, CaseFile, CaseFilter, Closing, Kept

T = TypeVar("T")


def at_once(*acts: Callable[[], T]) -> list[T | ServiceError]:
    """What each act gave or refused, all started at the same moment."""
    line = Barrier(len(acts))

    def run(act: Callable[[], T]) -> T | ServiceError:
        line.wait()
        try:
            return act()
        except ServiceError as error:
            return error

    with ThreadPoolExecutor(len(acts)) as pool:
        return list(pool.map(run, acts))


def test_the_same_request_from_two_phones_is_done_once(house: House, tech: Actor) -> None:
    found = at_once(*[lambda: cases.open_case(house, tech, CaseDraft("no crank"), receipt=keyed("k"))] * 8)
    answers = [each for each in found if isinstance(each, Kept)]
    assert len(answers) == 8 and len({each.body for each in answers}) == 1
    assert [each.replayed for each in answers].count(False) == 1
    assert len(cases.list_cases(house, tech, CaseFilter()).items) == 1


def test_of_two_changes_from_one_revision_one_is_told_to_look_again(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    def change(note: str) -> CaseFile | Kept:
        return cases.amend_case(house, tech, opened.id, {"note": note}, expected_revision=opened.revision)

    found = at_once(*[lambda note=note: change(note) for note in "abcd"])  # type: ignore[misc]
    stale = [each for each in found if isinstance(each, StaleRevision)]
    assert len(stale) == 3 and {each.current for each in stale} == {opened.revision + 1}


def test_steps_of_two_phones_are_all_kept(house: House, tech: Actor, boss: Actor, opened: CaseFile) -> None:
    def add(n: int) -> CaseFile | Kept:
        return steps.add_test(house, (tech, boss)[n % 2], opened.id, DROP, step_id=f"s{n}")

    at_once(*[lambda n=n: add(n) for n in range(12)])  # type: ignore[misc]
    file = cases.get_case(house, tech, opened.id)
    assert {step.stamp.id for step in file.tests} == {f"s{n}" for n in range(12)} and verify(house).good


def test_two_ways_to_close_a_case_do_not_mix(house: House, tech: Actor, opened: CaseFile) -> None:
    ways = [Closing(cause=CAUSE), Closing(cause="starting.starter.worn")]
    found = at_once(*[lambda way=way: close.close_case(house, tech, opened.id, way) for way in ways])  # type: ignore[misc]
    assert sorted(type(each).__name__ for each in found) == [AlreadyClosed.__name__, Closed.__name__]


def test_a_cause_wins_over_giving_up_whichever_comes_first(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    ways = [Closing(cause=CAUSE), Closing(unresolved="declined")]
    at_once(*[lambda way=way: close.close_case(house, tech, opened.id, way) for way in ways])  # type: ignore[misc]
    file = cases.get_case(house, tech, opened.id)
    assert (file.state, file.cause, file.unresolved_reason) == ("closed", CAUSE, None)


def test_a_sign_in_code_works_for_one_of_two_phones(house: House, boss: Actor) -> None:
    code = members.enrol(house, boss, boss.member.id).code
    found = at_once(*[lambda: members.join(house, code, "phone")] * 4)
    assert [isinstance(each, CodeRefused) for each in found].count(False) == 1


def test_advice_given_while_others_write_is_whole(house: House, tech: Actor, closed: CaseFile) -> None:
    complaint = Complaint("one click and nothing")

    def write() -> int:
        for _ in range(10):
            cases.open_case(house, tech, CaseDraft("one click and nothing"))
        return 0

    def ask() -> int:
        return min(advise.advise(house, tech, complaint).revision for _ in range(5))

    found = at_once(write, ask, write, ask)
    assert all(isinstance(each, int) for each in found)
    last = advise.advise(house, tech, replace(complaint, text="one click"))
    assert last.revision == closed.revision + 20 and last.cases[0].case.id == closed.id
