"""The whole service is killed again and again while phones write over HTTP.

BAYLORE_KILLS=20 kills as often during 500 writes; left out, the short trial runs.
"""

from __future__ import annotations

import json
import os
import random
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import httpx
from tests.faults.phones import Copy, Phone, Write, phones
from tests.faults.running import Service, Starter, a_service
from tests.service.house_fixtures import CAUSE

from baylore_service.desk import feed, members
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store.records import Actor

KILLS = int(os.environ.get("BAYLORE_KILLS", "0"))
SEED = int(os.environ.get("BAYLORE_SEED", "7"))
WRITERS = 8
WRITES, TIMES, SPAN_S = (500, KILLS, (0.2, 2.0)) if KILLS else (72, 3, (0.1, 0.5))
HELD = ("tests", "readings", "parts", "photos")


def kill_at_random(service: Service, done: list[bool]) -> int:
    """Kill and start again at moments of chance, until all kills are spent or the phones are done."""
    chance, kills = random.Random(SEED), 0
    while kills < TIMES and not all(done):
        time.sleep(chance.uniform(*SPAN_S))
        service.kill()
        kills += 1
        service.start()
    return kills


def work_under_kills(service: Service, found: list[Phone], copy: Copy) -> int:
    """Let all phones send everything, and one follow, while the service is killed; how often it was."""
    done = [False] * len(found)

    def run(n: int) -> None:
        found[n].work()
        done[n] = True

    with ThreadPoolExecutor(len(found) + 1) as pool:
        working = [pool.submit(run, n) for n in range(len(found))]
        working.append(pool.submit(copy.follow, lambda: all(done)))
        kills = kill_at_random(service, done)
        for each in working:
            each.result()
    return kills


def steps_of(case: dict[str, Any]) -> list[str]:
    """The ids of everything a case holds."""
    return sorted(step["id"] for kind in HELD for step in case.get(kind, ()))


def check_cases(client: httpx.Client, writes: list[Write], copy: Copy) -> None:
    """Every acknowledged case is there once, with every step and nothing else; the copy holds the same."""
    listed: list[str] = []
    page = "/cases?limit=100"
    while page:
        answer = client.get(page)
        listed += [case["id"] for case in answer.json()["cases"]]
        page = answer.links.get("next", {}).get("url", "").removeprefix("/api")
    assert sorted(listed) == sorted({write.case for write in writes})
    for id in listed:
        wanted = sorted(write.step for write in writes if write.case == id and write.step)
        case = client.get(f"/cases/{id}").json()
        assert steps_of(case) == wanted and copy.held.pop(id) == case
    assert not copy.held


def check_log(client: httpx.Client, before: int, writes: int) -> None:
    """The change log has no gap, and one line for each write."""
    seen: list[int] = []
    while len(page := client.get(f"/changes?after={before + len(seen)}&limit=500").json()["changes"]) > 0:
        seen += [change["seq"] for change in page]
    assert seen == list(range(before + 1, before + writes + 1))


def check_replays(phone: Phone) -> None:
    """Each write sent again is answered as it was the first time."""
    for write, answer in phone.again():
        assert answer.headers["Idempotent-Replay"] == "true"
        assert json.loads(answer.content) == json.loads(phone.answers[write.key])


def test_what_was_acknowledged_outlives_a_service_killed_at_any_moment(
    starter: Starter, stored: Settings, house: House, tech: Actor, tmp_path: Path
) -> None:
    token = members.issue_token(house, tech.member.id, "a phone of the floor")
    before = feed.revision(house, tech)
    with a_service(starter, stored, tmp_path) as service:
        found = phones(WRITERS, WRITES, seed=SEED, cause=CAUSE, client=lambda: service.client(token))
        writes = [write for phone in found for write in phone.writes]
        copy = Copy(service.client(token))
        service.start()
        kills = work_under_kills(service, found, copy)
        with service.client(token) as client:
            check_cases(client, writes, copy)
            check_log(client, before, len(writes))
        for phone in found:
            check_replays(phone)
        unanswered = sum(phone.unanswered for phone in found)
    assert kills and unanswered, "the trial proved nothing: no write met a kill"
    assert [check for check in verify(house).checks if not check.good] == []
