"""Phones that write through an outbox: each write has a key and is sent until it is answered."""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import Any
from uuid import UUID

import httpx
from tests.service.app_fixtures import PART, PNG, READING, TEST

PICTURE = {"Content-Type": "image/png"}
LATER = frozenset({429, 502, 503, 504, 507})
PAUSE_S = 0.05
PATIENCE_S = 120.0


@dataclass(frozen=True)
class Write:
    """One act of a phone: where it goes, what it carries and its key."""

    path: str
    body: Any
    key: str
    case: str
    step: str = ""

    def send(self, client: httpx.Client) -> httpx.Response:
        """Send it once."""
        headers = {"Idempotency-Key": self.key}
        if isinstance(self.body, bytes):
            return client.post(self.path, content=self.body, headers={**headers, **PICTURE})
        return client.post(self.path, json=self.body, headers=headers)


def a_job(chance: random.Random, cause: str) -> list[Write]:
    """The writes of one case, from opening to closing, with ids made on the phone."""

    def id() -> str:
        return str(UUID(int=chance.getrandbits(128), version=4))

    case, photo = id(), id()
    steps = [("tests", TEST), ("readings", READING), ("parts", PART)]
    here = f"/cases/{case}"
    writes = [Write("/cases", {"id": case, "complaint": f"one click, no crank {case[:6]}"}, id(), case)]
    for place, body in chance.sample(steps, 2):
        step = id()
        writes.append(Write(f"{here}/{place}", {"id": step, **body}, id(), case, step))
    writes.append(Write(f"{here}/photos?id={photo}", PNG, id(), case, photo))
    writes.append(Write(f"{here}/close", {"cause": cause, "correction": "replaced it"}, id(), case))
    return writes


@dataclass
class Phone:
    """Sends its writes in order; `answers` holds the body of each acknowledged one by its key."""

    client: httpx.Client
    writes: list[Write]
    answers: dict[str, bytes] = field(default_factory=dict)
    unanswered: int = 0

    def work(self) -> None:
        """Send everything, each write until it is acknowledged."""
        for write in self.writes:
            self.answers[write.key] = self._insist(write)

    def again(self) -> Iterator[tuple[Write, httpx.Response]]:
        """Send everything once more."""
        for write in self.writes:
            yield write, write.send(self.client)

    def _insist(self, write: Write) -> bytes:
        deadline = time.monotonic() + PATIENCE_S
        while time.monotonic() < deadline:
            answer = self._try(write)
            if answer is not None and answer.is_success:
                return answer.content
            if answer is not None and answer.status_code not in LATER:
                raise AssertionError(f"{write.path}: {answer.status_code} {answer.text}")
            self.unanswered += 1
            time.sleep(PAUSE_S)
        raise AssertionError(f"{write.path} was not answered in {PATIENCE_S} s")

    def _try(self, write: Write) -> httpx.Response | None:
        try:
            return write.send(self.client)
        except httpx.TransportError:
            return None


@dataclass
class Copy:
    """What a phone that follows the change log holds: the newest record of each case."""

    client: httpx.Client
    reached: int = 0
    held: dict[str, Any] = field(default_factory=dict)
    broken_off: int = 0

    def follow(self, until: Callable[[], bool]) -> None:
        """Ask for what is new, page by page, from where the last whole answer ended; once more at the end."""
        at_the_end = False
        while not (self._page() and at_the_end):
            time.sleep(PAUSE_S)
            at_the_end = until()

    def _page(self) -> bool:
        """Take a page; whether it was the last there is by now."""
        try:
            answer = self.client.get(f"/changes?after={self.reached}&limit=9").raise_for_status().json()
        except httpx.HTTPError:
            self.broken_off += 1
            return False
        self.held |= {each["id"]: each["case"] for each in answer["changes"] if each.get("case")}
        self.reached = answer["next"]
        return bool(answer["latest"] == self.reached)


def phones(
    count: int, writes: int, *, seed: int, cause: str, client: Callable[[], httpx.Client]
) -> list[Phone]:
    """So many phones with so many writes together, the same for the same seed."""
    chance, made = random.Random(seed), []
    for n in range(count):
        mine: list[Write] = []
        share = writes // count + (n < writes % count)
        while len(mine) < share:
            mine += a_job(chance, cause)
        made.append(Phone(client(), mine[:share]))
    return made
