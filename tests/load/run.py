"""200 phones asking and 20 writing on one service, its memory watched, then a burst of questions.

python -m tests.load.run --seconds 600        (makes its own demo shop)
"""

from __future__ import annotations

import argparse
import asyncio
import json
import sys
import tempfile
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from statistics import mean
from typing import Any

from tests.faults.running import Service, Starter, a_service
from tests.load.crowd import Crowd, Seen

from baylore_service import demo
from baylore_service.desk import members
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

DEVICES = 40
GOOD, POLITE = (200, 201), (429, 503)
SAMPLE_S = 2.0
MB = 1e6


@dataclass
class Memory:
    """Resident bytes of all processes of a service, sampled."""

    service: Service
    samples: list[tuple[float, int]] = field(default_factory=list)
    over: threading.Event = field(default_factory=threading.Event)

    def watch(self) -> None:
        """Sample until it is over."""
        while not self.over.wait(SAMPLE_S):
            pids = self.service.processes()
            self.samples.append((time.monotonic(), sum(resident(pid) for pid in pids)))

    def between(self, first: float, last: float) -> float:
        """The mean of a stretch of the samples, in megabytes; the whole runs from 0 to 1."""
        count = len(self.samples)
        some = self.samples[int(first * count) : max(int(first * count) + 1, int(last * count))]
        return mean(size for _, size in some) / MB if some else 0.0


def resident(pid: int) -> int:
    """Resident bytes of a process, 0 once it is gone."""
    try:
        pages = int(Path(f"/proc/{pid}/statm").read_text().split()[1])
    except (OSError, IndexError):
        return 0
    return pages * 4096


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
    """Everybody at work, then the burst, then one question alone."""
    memory = Memory(service)
    watcher = threading.Thread(target=memory.watch, daemon=True)
    asyncio.run(crowd.work(4, 2, seconds=args.warm_s, pause_s=0.5))
    watcher.start()
    work = crowd.work(args.phones, args.writers, seconds=args.seconds, pause_s=args.pause_s)
    asked, written = asyncio.run(work)
    memory.over.set()
    lines = [told("asks", asked, args.seconds), told("writes", written, args.seconds)]
    second, last = memory.between(0.2, 0.4), memory.between(0.8, 1.0)
    grown = {"second fifth MB": round(second, 1), "last fifth MB": round(last, 1)}
    lines.append({"what": "memory", **grown, "grown MB": round(last - second, 1)})
    started = time.monotonic()
    burst = asyncio.run(crowd.burst(args.burst))
    lines.append(told(f"burst of {args.burst}", burst, time.monotonic() - started))
    after = asyncio.run(crowd.burst(1))
    return [*lines, told("one after it", after, 1)]


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
    steady = {status for line in lines[:2] for status in line["statuses"]}
    polite = not any(line.get("impolite") for line in lines)
    return polite and steady <= {"200", "201"} and set(lines[3]["statuses"]) <= {"200", "429", "503"}


if __name__ == "__main__":
    sys.exit(main())
