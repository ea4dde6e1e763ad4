"""Several service processes on one store: one log, one truth."""

from __future__ import annotations

import threading
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from tests.serving import Served, all_served

from baylore_service.desk import members
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House, utc_now
from baylore_service.settings import Settings
from baylore_service.store.records import Actor, CaseFile

WRITERS, CASES_EACH = 8, 6


@pytest.fixture
def clock() -> Callable[[], datetime]:
    """The time of day, as the processes beside this one have it."""
    return utc_now


@pytest.fixture
def both(stored: Settings, tmp_path: Path) -> Iterator[list[Served]]:
    """Two service processes over one store."""
    with all_served(stored, tmp_path, 2) as running:
        yield running


class Watcher:
    """Follows the change log of a process from the start, as a phone does; keeps each number it is told."""

    def __init__(self, at: Served, token: str, *, after: int) -> None:
        self.numbers: list[int] = []
        self._at, self._token, self._after = at, token, after
        self._over = threading.Event()
        self._thread = threading.Thread(target=self._run)

    def __enter__(self) -> Watcher:
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._over.set()
        self._thread.join()

    def _run(self) -> None:
        with self._at.client(self._token) as client:
            last = False
            while not last:
                last = self._over.is_set()
                told = client.get("/changes", params={"after": self._after, "limit": 20}).json()
                self.numbers += [change["seq"] for change in told["changes"]]
                self._after = told["next"]
                last = last and told["next"] == told["latest"]


def writer(at: Served, token: str) -> Callable[[int], list[int]]:
    """Opens cases, each with a test; the status of each answer."""

    def write(number: int) -> list[int]:
        with at.client(token) as client:
            said = []
            for n in range(CASES_EACH):
                opened = client.post("/cases", json={"complaint": f"one click and nothing, bay {number} {n}"})
                test = {"test": "crank_drop_neg", "outcome": "high"}
                step = client.post(f"/cases/{opened.json()['id']}/tests", json=test)
                said += [opened.status_code, step.status_code]
            return said

    return write


def test_eight_writers_in_two_processes_leave_one_log_that_never_skips(
    house: House, tech: Actor, closed: CaseFile, both: list[Served]
) -> None:
    token = members.issue_token(house, tech.member.id, "another process")
    before = house.hosts.snapshot(tech.shop.id).revision
    with (
        Watcher(both[0], token, after=before) as near,
        Watcher(both[1], token, after=before) as far,
        ThreadPoolExecutor(WRITERS) as pool,
    ):
        said = [pool.submit(writer(both[n % 2], token), n) for n in range(WRITERS)]
        statuses = {status for each in said for status in each.result()}
    last = before + WRITERS * CASES_EACH * 2
    assert statuses == {201} and verify(house).good
    assert near.numbers == far.numbers == list(range(before + 1, last + 1))
    answers = [answer(each, token, seen=last) for each in both]
    assert (
        answers[0] == answers[1]
        and answers[0]["cases"][0]["case"] == closed.id
        and answers[0]["revision"] == last
    )


def answer(at: Served, token: str, *, seen: int) -> dict[str, Any]:
    """The whole answer of a process to one question by a device that has seen a change."""
    with at.client(token, **{"Baylore-Seen": str(seen)}) as client:
        found = client.post("/advice", json={"complaint": "one click and nothing"})
        assert found.status_code == 200, found.text
        return dict(found.json())
