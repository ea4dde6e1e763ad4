"""The service is asked to end, as a system does it."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import httpx
import pytest
from tests.faults.running import Service, Starter, a_service, wait_for
from tests.service.app_fixtures import COMPLAINT

from baylore_service.desk import members
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store.records import Actor

QUESTION = {"complaint": COMPLAINT}
AT_ONCE = 12


@pytest.fixture
def token(house: House, tech: Actor) -> str:
    """A device of the shop."""
    return members.issue_token(house, tech.member.id, "a phone of the floor")


@pytest.fixture
def service(starter: Starter, sqlite: Settings, tmp_path: Path) -> Iterator[Service]:
    """A service of two processes that answers on for a second when asked to end, started."""
    extra = {"BAYLORE_DRAIN_S": "1", "BAYLORE_WORKERS": "2", "BAYLORE_LOG_LEVEL": "info"}
    with a_service(starter, sqlite, tmp_path, **extra) as made:
        made.start()
        yield made


def ask(service: Service, token: str) -> httpx.Response:
    """One question of a phone that waits for its answer."""
    with service.client(token) as phone:
        return phone.post("/advice", json=QUESTION)


def test_an_end_answers_what_was_asked_turns_others_away_and_leaves_no_process(
    service: Service, token: str
) -> None:
    assert ask(service, token).status_code == 200
    with ThreadPoolExecutor(AT_ONCE) as pool:
        asked = [pool.submit(ask, service, token) for _ in range(AT_ONCE)]
        time.sleep(0.1)
        service.signal_end()
        wait_for(lambda: not service.is_ready(), "the service to be not ready", limit_s=5)
        late = ask(service, token)
        answers = [each.result() for each in asked]
    assert {answer.status_code for answer in [*answers, late]} == {200}
    wait_for(lambda: not service.processes(), "all processes to be over", limit_s=20)
    lines = [json.loads(line) for line in service.log.read_text().splitlines() if line.startswith("{")]
    assert {line["level"] for line in lines} == {"info"}
    assert [line["event"] for line in lines if "PID" in line["event"]]
    others = [line for line in service.log.read_text().splitlines() if not line.startswith("{")]
    assert [line.split(" on ")[0] for line in others] == ["serving"]
