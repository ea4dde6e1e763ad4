"""200 phones asking and 20 writing on one service, its memory watched, then a burst of questions.

After the time in which cases come, memory is watched while only questions come, and while the same cases are
changed again and again: there it must stay where it is.

python -m tests.load.run --seconds 600        (makes its own demo shop)
"""

from __future__ import annotations

import argparse
import asyncio
import json
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.faults.running import Service, Starter, a_service
from tests.load.crowd import Crowd, Seen
from tests.load.memory import Memory

from baylore_service import demo
from baylore_service.desk import members
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

DEVICES = 40
GOOD, POLITE = (200, 201), (429, 503)
# The share of the time that is spent once more with nothing new coming, twice.
QUIET = 0.4


@contextmanager
def a_crowd(service: Service, settings: Settings, seed: int) -> Iterator[Crowd]:
    """The demo shop with devices, served."""
    house = House.open(settings)
    loaded = demo.load(house)
    tokens = [members.issue_token(house, loaded.technician.id, f"phone {n}") for n in range(DEVICES)]
    said = [case.complaint.text for case in house.hosts.snapshot(loaded.shop.id).cases.values()]
    cause = next(iter(house.trade.causes))
    house.close()
    service.start()
    yield Crowd(service.address, tokens, said, cause, seed)
    service.stop()


def told(name: str, seen: Seen, seconds: float) -> dict[str, Any]:
    """A line of the table."""
    return {
        "what": name,
        "count": len(seen.seconds),
        "a second": round(len(seen.seconds) / seconds, 2),
        "p50 ms": round(seen.at(0.5) * 1000, 1),
        "p99 ms": round(seen.at(0.99) * 1000, 1),
        "longest ms": round(max(seen.seconds, default=0.0) * 1000, 1),
        "refused politely": sum(seen.statuses[status] for status in POLITE),
        "errors": sum(count for status, count in seen.statuses.items() if status not in (*GOOD, *POLITE)),
        "statuses": {str(status): count for status, count in sorted(seen.statuses.items())},
        "impolite": seen.impolite,
    }


def trial(args: argparse.Namespace, crowd: Crowd, service: Service) -> list[dict[str, Any]]:
    """Everybody at work, then with nothing new coming, then the burst, then one question alone."""
    asyncio.run(crowd.work(4, 2, seconds=args.warm_s, pause_s=0.5))
    lines = phase(args, crowd, service, Phase("cases coming", args.seconds, args.writers))
    quiet_s = args.seconds * QUIET
    lines += phase(args, crowd, service, Phase("asking only", quiet_s, 0))
    lines += phase(args, crowd, service, Phase("the same cases changed", quiet_s, args.writers, anew=False))
    started = time.monotonic()
    burst = asyncio.run(crowd.burst(args.burst))
    lines.append(told(f"burst of {args.burst}", burst, time.monotonic() - started))
    after = asyncio.run(crowd.burst(1))
    return [*lines, told("one after it", after, 1)]


@dataclass(frozen=True)
class Phase:
    """So long, and who writes what meanwhile."""

    name: str
    seconds: float
    writers: int
    anew: bool = True


def phase(args: argparse.Namespace, crowd: Crowd, service: Service, now: Phase) -> list[dict[str, Any]]:
    """Everybody at work: what was asked, what was written, and the memory meanwhile."""
    memory = Memory(service)
    work = crowd.work(args.phones, now.writers, seconds=now.seconds, pause_s=args.pause_s, anew=now.anew)
    with memory.watched():
        asked, written = asyncio.run(work)
    lines = [told(f"asks, {now.name}", asked, now.seconds)]
    if now.writers:
        lines.append(told(f"writes, {now.name}", written, now.seconds))
    return [*lines, memory.told(f"memory, {now.name}", written.opened_at)]


def options() -> argparse.Namespace:
    """What was asked for."""
    made = argparse.ArgumentParser(description=__doc__)
    for name, usual, what in (
        ("phones", 200, "phones that ask"),
        ("writers", 20, "phones that write, four times as often"),
        ("burst", 1000, "questions at one moment, at the end"),
        ("seed", 1, "the same seed asks and writes the same"),
        ("workers", 1, "processes of the service"),
    ):
        made.add_argument(f"--{name}", type=int, default=usual, help=f"{what} ({usual})")
    made.add_argument("--seconds", type=float, default=600, help="how long (600)")
    made.add_argument("--pause-s", type=float, default=20, help="mean pause between a phone's questions (20)")
    made.add_argument(
        "--warm-s", type=float, default=15, help="a few phones before anything is measured (15)"
    )
    made.add_argument("--json", type=Path, help="write the lines here too")
    return made.parse_args()


def main() -> int:
    """Run the trial; 1 where anything was answered that should not be, or nothing at all."""
    args = options()
    starter = Starter()
    with tempfile.TemporaryDirectory() as folder:
        settings = Settings(data=Path(folder))
        upgrade(settings.store_url)
        workers = {"BAYLORE_WORKERS": str(args.workers)}
        with (
            a_service(starter, settings, Path(folder), **workers) as service,
            a_crowd(service, settings, args.seed) as crowd,
        ):
            lines = trial(args, crowd, service)
    starter.close()
    for line in lines:
        print(json.dumps(line))
    if args.json:
        args.json.write_text(json.dumps(lines, indent=1))
    return 0 if good(lines) else 1


def good(lines: list[dict[str, Any]]) -> bool:
    """Whether all steady work was done, and everybody in the burst answered or politely turned away."""
    steady = {status for line in lines[:-2] for status in line.get("statuses", ())}
    polite = not any(line.get("impolite") for line in lines)
    return polite and steady <= {"200", "201"} and set(lines[-2]["statuses"]) <= {"200", "429", "503"}


if __name__ == "__main__":
    sys.exit(main())
