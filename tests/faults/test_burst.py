"""Far more at once than can be answered: every question is answered or asked to come again."""

from __future__ import annotations

import asyncio
from collections import Counter
from pathlib import Path

import httpx
from tests.faults.running import Service, Starter, a_service
from tests.service.app_fixtures import COMPLAINT

from baylore_service.desk import members
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store.records import Actor

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
    starter: Starter, sqlite: Settings, house: House, tech: Actor, tmp_path: Path
) -> None:
    token = members.issue_token(house, tech.member.id, "a phone of the floor")
    with a_service(starter, sqlite, tmp_path, BAYLORE_MAX_WAITING="20") as service:
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
