"""A process dies: after the commit and before the answer, or inside the transaction."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

import pytest
from tests.service.house_fixtures import keyed

from baylore_service.desk import cases, feed, members
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House, utc_now
from baylore_service.store.records import Actor, CaseDraft, CaseFilter, Kept

WORKER = Path(__file__).with_name("worker.py")
ROOT = WORKER.parents[2]


@pytest.fixture
def clock() -> Callable[[], datetime]:
    """The time of day, as the processes beside this one have it."""
    return utc_now


def started(deed: str, house: House, actor: Actor) -> subprocess.Popen[bytes]:
    """A process of its own that does a deed in the same store."""
    token = members.issue_token(house, actor.member.id, "another process")
    said = {"data": str(house.settings.data), "url": house.settings.database_url, "token": token}
    path = os.pathsep.join((str(ROOT), os.environ.get("PYTHONPATH", "")))
    command = [sys.executable, str(WORKER), deed, json.dumps(said)]
    return subprocess.Popen(command, cwd=ROOT, env=os.environ | {"PYTHONPATH": path}, stderr=subprocess.PIPE)


def ended(process: subprocess.Popen[bytes], *, code: int) -> None:
    """The process is over, in the way it was meant to be."""
    _, said = process.communicate(timeout=60)
    assert process.returncode == code, said.decode()


def test_the_answer_lost_after_the_commit_is_given_to_the_phone_that_asks_again(
    house: House, tech: Actor
) -> None:
    ended(started("open_and_die", house, tech), code=9)
    draft = CaseDraft("no crank", id="made-on-the-phone")
    again = cases.open_case(house, tech, draft, receipt=keyed("phone-key"))
    assert isinstance(again, Kept) and again.replayed
    assert [file.id for file in cases.list_cases(house, tech, CaseFilter()).items] == ["made-on-the-phone"]
    assert verify(house).good


def test_a_transaction_that_died_leaves_nothing_and_the_phone_can_send_again(
    house: House, tech: Actor
) -> None:
    before = feed.revision(house, tech)
    ended(started("die_inside", house, tech), code=9)
    assert feed.revision(house, tech) == before and verify(house).good
    first = cases.open_case(house, tech, CaseDraft("no crank"), receipt=keyed("phone-key"))
    assert isinstance(first, Kept) and not first.replayed


def test_processes_at_once_lose_nothing_and_leave_no_gap(house: House, tech: Actor) -> None:
    before = feed.revision(house, tech)
    both = [started("add_many", house, tech) for _ in range(2)]
    for process in both:
        ended(process, code=0)
    assert feed.revision(house, tech) == before + 80
    found = cases.list_cases(house, tech, CaseFilter(), limit=100).items
    assert [len(file.tests) for file in found] == [1] * 40 and verify(house).good
