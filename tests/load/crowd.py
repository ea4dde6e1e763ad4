"""Phones that ask and phones that write, each at its own pace, over HTTP."""

from __future__ import annotations

import asyncio
import random
import time
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, field

import httpx
from tests.faults.phones import Write, a_job

UNHEARD = 0
LIMIT_S = 60.0


@dataclass
class Seen:
    """What came back: how often each status, how long each answer took (s), and when a case was new."""

    statuses: Counter[int] = field(default_factory=Counter)
    seconds: list[float] = field(default_factory=list)
    opened_at: list[float] = field(default_factory=list)
    impolite: int = 0

    def note(self, status: int, seconds: float, *, polite: bool = True) -> None:
        """One answer; status 0 for a request that got none."""
        self.statuses[status] += 1
        self.seconds.append(seconds)
        self.impolite += not polite

    def at(self, share: float) -> float:
        """The time within which so great a share was answered, in seconds; 0 where nothing was asked."""
        ordered = sorted(self.seconds)
        return ordered[min(len(ordered) - 1, int(share * len(ordered)))] if ordered else 0.0


@dataclass(frozen=True)
class Crowd:
    """Where the service is, whose tokens there are, and what is asked."""

    address: str
    tokens: Sequence[str]
    complaints: Sequence[str]
    cause: str
    seed: int

    async def ask(self, client: httpx.AsyncClient, token: str, words: str, seen: Seen) -> None:
        """Ask once and note what came."""
        await timed(client.post("/advice", json={"complaint": words}, headers=bearer(token)), seen)

    async def asking(self, client: httpx.AsyncClient, n: int, *, until: float, pause_s: float) -> Seen:
        """One phone: asks, reads the answer for a while, asks again."""
        chance, seen = random.Random(f"{self.seed} ask {n}"), Seen()
        await asyncio.sleep(chance.uniform(0, pause_s))
        while time.monotonic() < until:
            words = chance.choice(self.complaints).split()
            kept = [word for word in words if chance.random() > 0.15] or words
            await self.ask(client, self.tokens[n % len(self.tokens)], " ".join(kept), seen)
            await asyncio.sleep(chance.expovariate(1 / pause_s))
        return seen

    async def writing(self, client: httpx.AsyncClient, n: int, *, until: float, pause_s: float) -> Seen:
        """One phone: writes job after job, act by act."""
        chance, seen, waiting = random.Random(f"{self.seed} write {n}"), Seen(), list[Write]()
        await asyncio.sleep(chance.uniform(0, pause_s))
        while time.monotonic() < until:
            waiting = waiting or a_job(chance, self.cause)
            write = waiting.pop(0)
            kept = await timed(self.send(client, n, write), seen)
            if kept and write.path == "/cases":
                seen.opened_at.append(time.monotonic())
            await asyncio.sleep(chance.expovariate(1 / pause_s))
        return seen

    async def editing(self, client: httpx.AsyncClient, n: int, *, until: float, pause_s: float) -> Seen:
        """One phone: opens a case, then changes its note again and again."""
        chance, seen = random.Random(f"{self.seed} edit {n}"), Seen()
        first = a_job(chance, self.cause)[0]
        await timed(self.send(client, n, first), seen)
        while time.monotonic() < until:
            await asyncio.sleep(chance.expovariate(1 / pause_s))
            note = {"note": f"heard it {chance.randrange(9)} times, belt {chance.choice(('dry', 'wet'))}"}
            headers = bearer(self.tokens[n % len(self.tokens)]) | {"If-Match": "*"}
            await timed(client.patch(f"/cases/{first.case}", json=note, headers=headers), seen)
        return seen

    async def send(self, client: httpx.AsyncClient, n: int, write: Write) -> httpx.Response:
        """Send one act."""
        headers = bearer(self.tokens[n % len(self.tokens)]) | {"Idempotency-Key": write.key}
        if isinstance(write.body, bytes):
            return await client.post(
                write.path, content=write.body, headers=headers | {"Content-Type": "image/png"}
            )
        return await client.post(write.path, json=write.body, headers=headers)

    async def burst(self, asks: int) -> Seen:
        """So many questions at the same moment, each over a connection of its own."""
        seen, chance = Seen(), random.Random(self.seed)
        async with self.client(asks) as client:
            words = [chance.choice(self.complaints) for _ in range(asks)]
            tokens = [self.tokens[n % len(self.tokens)] for n in range(asks)]
            each = zip(tokens, words, strict=True)
            await asyncio.gather(*[self.ask(client, token, said, seen) for token, said in each])
        return seen

    async def work(
        self, asking: int, writing: int, *, seconds: float, pause_s: float, anew: bool = True
    ) -> tuple[Seen, Seen]:
        """Everybody at work for so long: what the asking saw, and what the writing saw.

        Who writes makes new cases, or changes one again and again where nothing is to come `anew`.
        """
        until, write = time.monotonic() + seconds, self.writing if anew else self.editing
        async with self.client(asking + writing) as client:
            asks = [self.asking(client, n, until=until, pause_s=pause_s) for n in range(asking)]
            writes = [write(client, n, until=until, pause_s=pause_s / 4) for n in range(writing)]
            found = await asyncio.gather(*asks, *writes)
        return joined(found[:asking]), joined(found[asking:])

    def client(self, connections: int) -> httpx.AsyncClient:
        """Connections enough for everybody."""
        limits = httpx.Limits(max_connections=connections, max_keepalive_connections=connections)
        return httpx.AsyncClient(base_url=f"{self.address}/api", limits=limits, timeout=LIMIT_S)


async def timed(request: object, seen: Seen) -> bool:
    """Wait for an answer and note it; whoever is turned away must be told when to come again.

    Whether it was done.
    """
    started = time.perf_counter()
    try:
        answer: httpx.Response = await request  # type: ignore[misc]
    except httpx.TransportError:
        seen.note(UNHEARD, time.perf_counter() - started, polite=False)
        return False
    turned_away = answer.status_code in (429, 503)
    polite = not turned_away or int(answer.headers.get("Retry-After", "0")) > 0
    seen.note(answer.status_code, time.perf_counter() - started, polite=polite)
    return answer.is_success


def joined(found: Sequence[Seen]) -> Seen:
    """What all saw together."""
    whole = Seen()
    for each in found:
        whole.statuses += each.statuses
        whole.seconds += each.seconds
        whole.opened_at += each.opened_at
        whole.impolite += each.impolite
    return whole


def bearer(token: str) -> dict[str, str]:
    """The header of a device."""
    return {"Authorization": f"Bearer {token}"}
