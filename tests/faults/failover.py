"""A failover drill: the primary is killed under load, its synchronous replica takes over, phones go on.

`python -m tests.faults.failover [--phones 8] [--cases 63]` prints what it found; the suite runs a short one.
"""

from __future__ import annotations

import argparse
import tempfile
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from itertools import pairwise
from pathlib import Path
from uuid import uuid4

import httpx
from tests.postgres import Cluster, cluster
from tests.serving import Served, served

from baylore_service.desk import members, shops
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store import cases as stored_cases
from baylore_service.store import changes as stored_changes
from baylore_service.store.migrate import upgrade
from baylore_service.store.records import Actor

PATIENCE_S, PAUSE_S = 90.0, 0.1
# A killed process loses nothing of what the system has taken; the disk itself is not what is drilled here.
SETTINGS = ("fsync=off", "wal_level=replica", "max_wal_senders=4", "hot_standby=on")


@dataclass
class Phone:
    """A phone with an outbox: every entry has its id and key from the start and goes when it is stored."""

    at: Served
    token: str
    outbox: list[tuple[str, str]]
    stored: list[str] = field(default_factory=list)
    refused: list[int] = field(default_factory=list)
    unreached: int = 0
    answered_at: list[float] = field(default_factory=list)

    def drain(self) -> None:
        """Send the oldest entry until it is stored, then the next."""
        until = time.monotonic() + PATIENCE_S
        with self.at.client(self.token) as client:
            while self.outbox and time.monotonic() < until:
                if self._sent(client, *self.outbox[0]):
                    self.stored.append(self.outbox.pop(0)[0])
                    self.answered_at.append(time.monotonic())
                else:
                    time.sleep(PAUSE_S)

    def _sent(self, client: httpx.Client, id: str, key: str) -> bool:
        try:
            body = {"id": id, "complaint": "one click and nothing"}
            said = client.post("/cases", json=body, headers={"Idempotency-Key": key}).status_code
        except httpx.TransportError:
            self.unreached += 1
            return False
        if said not in (200, 201):
            self.refused.append(said)
        return said in (200, 201)


@dataclass(frozen=True)
class Found:
    """What came of a drill."""

    acknowledged: set[str]
    kept: set[str]
    log: list[int]
    left: int
    refused: set[int]
    pause_s: float
    good: bool


def drill(folder: Path, *, phones: int, cases: int) -> Found:
    """Kill the primary when a third is stored, promote its replica, and let the phones drain."""
    with pair() as (primary, replica):
        settings = Settings(database_url=either(primary, replica), read_url=replica.address, data=folder)
        upgrade(settings.store_url)
        token = enrolled(settings)
        primary.wait_for_replica()
        with served(settings, folder) as service:
            service.wait_ready()
            crowd = [Phone(service, token, outbox(cases)) for _ in range(phones)]
            killed_at = hit(primary, replica, crowd, after=phones * cases // 3)
        return looked_at(settings, token, crowd, killed_at)


@contextmanager
def pair() -> Iterator[tuple[Cluster, Cluster]]:
    """A primary and a replica that follows it."""
    with cluster(settings=SETTINGS) as primary:
        replica = primary.replica(primary.folder.with_name("replica"))
        try:
            yield primary, replica
        finally:
            replica.stop()


def either(primary: Cluster, replica: Cluster) -> str:
    """The address of whichever of the two takes writes."""
    hosts = f"127.0.0.1:{primary.port},127.0.0.1:{replica.port}"
    return f"postgresql://baylore@{hosts}/baylore?target_session_attrs=primary"


def enrolled(settings: Settings) -> str:
    """The token of a device of a new shop."""
    house = House.open(settings)
    shop = shops.create_shop(house, name="Corner Garage")
    member = members.add_member(house, shops.console(shop), name="Mara", role="manager")
    token = members.issue_token(house, member.id, "phone")
    house.close()
    return token


def outbox(cases: int) -> list[tuple[str, str]]:
    """Entries with an id and a key each."""
    return [(str(uuid4()), str(uuid4())) for _ in range(cases)]


def hit(primary: Cluster, replica: Cluster, crowd: list[Phone], *, after: int) -> float:
    """Let all phones drain, with the primary killed meanwhile; the moment before the kill."""
    with ThreadPoolExecutor(len(crowd)) as pool:
        draining = [pool.submit(phone.drain) for phone in crowd]
        while sum(len(phone.stored) for phone in crowd) < after and not all(d.done() for d in draining):
            time.sleep(0.01)
        killed_at = time.monotonic()
        primary.kill()
        replica.promote()
        for each in draining:
            each.result()
    return killed_at


def looked_at(settings: Settings, token: str, crowd: list[Phone], killed_at: float) -> Found:
    """What the promoted store holds, beside what the phones were told."""
    house = House.open(settings)
    try:
        actor = members.who(house, token)
        there = all_cases(house, actor)
        log = all_changes(house, actor)
        good = verify(house).good
    finally:
        house.close()
    answers = sorted(at for phone in crowd for at in phone.answered_at)
    return Found(
        {id for phone in crowd for id in phone.stored},
        set(there),
        log,
        sum(len(phone.outbox) for phone in crowd),
        {status for phone in crowd for status in phone.refused},
        max((later - at for at, later in pairwise(answers) if later > killed_at), default=float("inf")),
        good and len(there) == len(set(there)),
    )


def all_cases(house: House, actor: Actor) -> list[str]:
    """Ids of all cases of the shop."""
    with house.store.read() as work:
        return [file.id for file in stored_cases.every(work, actor.shop.id)]


def all_changes(house: House, actor: Actor) -> list[int]:
    """The numbers of the whole change log."""
    with house.store.read() as work:
        return [change.seq for change in stored_changes.after(work, actor.shop.id, 0)]


def main() -> None:
    """Run one drill and print what it found."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--phones", type=int, default=8)
    parser.add_argument("--cases", type=int, default=63)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        found = drill(Path(folder), phones=asked.phones, cases=asked.cases)
    lost = found.acknowledged - found.kept
    print(f"acknowledged {len(found.acknowledged)}, lost {len(lost)}, left in outboxes {found.left}")  # noqa: T201
    print(f"nobody was answered for {found.pause_s:.1f} s; refusals meanwhile {sorted(found.refused)}")  # noqa: T201
    print(f"log without gap {found.log == list(range(1, len(found.log) + 1))}, store good {found.good}")  # noqa: T201


if __name__ == "__main__":
    main()
