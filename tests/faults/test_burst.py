"""Far more at once than can be answered: every question is answered or asked to come again."""

from __future__ import annotations

import asyncio
import threading
import time
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import httpx
import pytest
from tests.faults.running import Service, Starter, a_service, a_token
from tests.service.app_fixtures import COMPLAINT, Floor

from baylore_service.desk import members
from baylore_service.desk.house import House
from baylore_service.desk.thinking import Thinkers
from baylore_service.routes.access import THROUGH_THE_DOOR
from baylore_service.settings import Settings
from baylore_service.store.records import Actor

pytestmark = pytest.mark.parametrize("stored", ["sqlite"], indirect=True)
ASKS = 200
QUESTION = {"complaint": COMPLAINT}


async def all_at_once(service: Service, token: str) -> list[httpx.Response]:
    """The answers to so many questions sent at the same moment, each over a connection of its own."""
    limits = httpx.Limits(max_connections=ASKS)
    headers = {"Authorization": f"Bearer {token}"}
    async with httpx.AsyncClient(headers=headers, limits=limits, timeout=60) as client:
        asks = [client.post(f"{service.address}/api/advice", json=QUESTION) for _ in range(ASKS)]
        return await asyncio.gather(*asks)


def test_a_burst_is_answered_or_refused_politely_and_leaves_nothing_behind(
    starter: Starter, stored: Settings, house: House, tech: Actor, tmp_path: Path
) -> None:
    token = a_token(stored, tech)
    with a_service(starter, stored, tmp_path, BAYLORE_MAX_WAITING="20") as service:
        service.start()
        with service.client(token) as phone:
            assert phone.post("/advice", json=QUESTION).status_code == 200
            answers = asyncio.run(all_at_once(service, token))
            after = phone.post("/advice", json=QUESTION)
    told = Counter(answer.status_code for answer in answers)
    assert set(told) == {200, 503} and told[200] >= 20 and after.status_code == 200
    for answer in answers:
        if answer.status_code == 503:
            assert answer.json()["type"] == "/problems/overloaded"
            assert int(answer.headers["Retry-After"]) >= 1


def test_questions_that_are_refused_for_another_reason_leave_their_seats(floor: Floor) -> None:
    floor.house.thinkers = Thinkers(1, 10)
    for _ in range(4):
        unknown = floor.client.post(
            "/api/advice", json=QUESTION, headers={"Authorization": "Bearer nobody-0"}
        )
        assert unknown.status_code == 401 and floor.post("/advice", {"complaint": 7}).status_code == 422
    assert floor.post("/advice", QUESTION).status_code == 200


@pytest.mark.parametrize("route", ["POST /advice", "POST /advice/elsewhere", "GET /cases/{id}/advice"])
def test_every_question_finds_the_line_full_before_anything_is_done_for_it(floor: Floor, route: str) -> None:
    case = floor.post("/cases", QUESTION).json()
    floor.ask("PATCH", "/shop", json={"shares": True}, who="manager")
    method, path = route.format(id=case["id"]).split()
    asked = {"json": QUESTION} if method == "POST" else {}
    assert floor.ask(method, path, **asked).status_code == 200
    floor.house.thinkers = Thinkers(0, 10)
    floor.house.thinkers.take_seat()
    refused = floor.ask(method, path, **asked)
    assert refused.status_code == 503 and int(refused.headers["Retry-After"]) >= 1


def test_of_a_burst_a_few_questions_at_a_time_are_signed_in_and_short_answers_pass_by(
    floor: Floor, monkeypatch: pytest.MonkeyPatch
) -> None:
    known, lock, inside, most = members.who, threading.Lock(), 0, [0]
    opened = threading.Event()

    def who(*given: object, **more: object) -> Actor:
        nonlocal inside
        with lock:
            inside += 1
            most.append(inside)
        opened.wait(10)
        with lock:
            inside -= 1
        return known(*given, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(members, "who", who)
    with ThreadPoolExecutor(6) as phones:
        asked = [phones.submit(floor.post, "/advice", QUESTION) for _ in range(6)]
        while max(most) < THROUGH_THE_DOOR:
            time.sleep(0.01)
        assert floor.client.get("/health/live").status_code == 200
        opened.set()
        assert [each.result().status_code for each in asked] == [200] * 6
    assert max(most) == THROUGH_THE_DOOR
