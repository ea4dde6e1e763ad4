"""POST /api/advice over HTTP beside a route that does next to nothing.

Starts the real service on a shop of made-up cases, on loopback, and asks it with 1, 8 and 64 phones at once.
"""

from __future__ import annotations

import argparse
import http.client
import json
import multiprocessing
import os
import socket
import subprocess
import sys
import tempfile
import threading
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import Any, NamedTuple

from baylore_service.demo.generator import cases as made_cases
from baylore_service.demo.loading import load
from baylore_service.desk import devices
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

PHONES = (1, 8, 64)
# The routes take turns, so that a slow minute of the machine falls on both.
ROUNDS, SECONDS = 8, 1.5
WARM_UP = 30


def main() -> None:
    """Print the table of all sizes."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", default="1000,10000")
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--json", type=Path)
    asked = parser.parse_args()
    print("| cases | route | phones | p50 ms | p99 ms | a second | memory MB | p50 over doing nothing |")
    print("|---|---|---|---|---|---|---|---|")
    rows = [row for size in asked.cases.split(",") for row in measured(int(size), asked.workers)]
    if asked.json:
        asked.json.write_text(json.dumps(rows, indent=1))


def measured(size: int, workers: int) -> Iterator[dict[str, Any]]:
    """One service of a size: the idle route and advice, by number of phones."""
    with tempfile.TemporaryDirectory() as folder, serving(Path(folder), size, workers) as (port, token, pid):
        bodies = questions()
        idle = {}
        for phones in PHONES:
            routes = {"/api/me": nothing, "/api/advice": advice(bodies)}
            for route, figures in in_turns(phones, port, token, routes).items():
                row = figures | {"cases": size, "route": route, "phones": phones}
                row["memory_mb"] = memory(pid)
                idle.setdefault(phones, row["p50"])
                row["ratio"] = row["p50"] / idle[phones]
                print(line_of(row), flush=True)
                yield row
        late = lag(port, token, bodies, worker_of(pid))
        print(f"| {size} | /health/live while 64 phones ask | 1 | {late} | | |", flush=True)


def line_of(row: dict[str, Any]) -> str:
    """A row of the table."""
    figures = f"{row['p50']:.2f} | {row['p99']:.2f} | {row['rate']:.0f} | {row['memory_mb']:.0f}"
    return f"| {row['cases']} | {row['route']} | {row['phones']} | {figures} | {row['ratio']:.1f} |"


Ask = Callable[[http.client.HTTPConnection, dict[str, str], int], int]


def nothing(line: http.client.HTTPConnection, head: dict[str, str], _: int) -> int:
    """Who am I: signed in, read from the store, next to nothing reckoned."""
    line.request("GET", "/api/me", headers=head)
    answer = line.getresponse()
    answer.read()
    return answer.status


def advice(bodies: Sequence[bytes]) -> Ask:
    """The questions one after the other."""

    def ask(line: http.client.HTTPConnection, head: dict[str, str], n: int) -> int:
        line.request("POST", "/api/advice", body=bodies[n % len(bodies)], headers=head)
        answer = line.getresponse()
        answer.read()
        return answer.status

    return ask


def in_turns(phones: int, port: int, token: str, routes: Mapping[str, Ask]) -> dict[str, dict[str, Any]]:
    """So many phones asking by one route, then by the other, some times over: the figures of each."""
    asked: dict[str, list[Asked]] = {route: [] for route in routes}
    for _ in range(ROUNDS):
        for route, ask in routes.items():
            asked[route].append(asked_by(phones, port, token, ask, seconds=SECONDS))
    return {route: figures_of(rounds) for route, rounds in asked.items()}


def figures_of(rounds: Sequence[Asked]) -> dict[str, Any]:
    """Milliseconds to the answer, and answers a second."""
    took = sorted(each for one in rounds for each in one.took)
    rate = len(took) / sum(one.seconds for one in rounds)
    return {"p50": took[len(took) // 2] * 1e3, "p99": took[int(len(took) * 0.99)] * 1e3, "rate": rate}


class Asked(NamedTuple):
    """Seconds to each answer, and all in all."""

    took: list[float]
    seconds: float


def asked_by(phones: int, port: int, token: str, ask: Ask, *, seconds: float) -> Asked:
    """So many phones asking one question after the other for some seconds."""
    took: list[float] = []
    start = time.perf_counter()

    def phone(n: int) -> None:
        line = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        head = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
        while time.perf_counter() < start + seconds:
            before = time.perf_counter()
            status = ask(line, head, n)
            took.append(time.perf_counter() - before)
            assert status == 200, status
            n += phones

    threads = [threading.Thread(target=phone, args=(n,)) for n in range(phones)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return Asked(took, time.perf_counter() - start)


class Wait(NamedTuple):
    """Milliseconds a trifle took, those in which it or the loop was ready and no processor was free left out
    in `own`; `stolen` where the machine itself was stopped for another one meanwhile.
    """

    took: float
    own: float
    stolen: bool


def lag(port: int, token: str, bodies: Sequence[bytes], worker: int) -> str:
    """How long the event loop makes a trifle wait while 64 phones ask for advice.

    The phones are a process of their own that takes no processor from the service. The second figure for the
    longest wait is the loop's own: of `own`, where nothing was stolen.
    """
    phones = multiprocessing.get_context("spawn").Process(target=ask_with_many, args=(port, token, bodies))
    phones.start()
    line = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
    waits = []
    while phones.is_alive():
        waits.append(waited(line, worker))
    took = sorted(wait.took for wait in waits)
    middle, late, most = (took[place] for place in (len(took) // 2, int(len(took) * 0.99), -1))
    own = max(wait.own for wait in waits if not wait.stolen)
    stolen = sum(wait.stolen for wait in waits)
    left_out = f"{stolen} of {len(waits)} stolen"
    return f"{middle:.2f} | {late:.2f} | most {most:.1f} ms, by the loop {own:.1f} ({left_out})"


def waited(line: http.client.HTTPConnection, worker: int) -> Wait:
    """One trifle asked for, and a short rest in which the system counts what was stolen."""
    stolen, queued, before = _stolen(), _queued_ms(os.getpid()) + _queued_ms(worker), time.perf_counter()
    line.request("GET", "/health/live")
    line.getresponse().read()
    took = (time.perf_counter() - before) * 1e3
    own = took - (_queued_ms(os.getpid()) + _queued_ms(worker) - queued)
    time.sleep(0.005)
    return Wait(took, own, _stolen() > stolen)


def ask_with_many(port: int, token: str, bodies: Sequence[bytes]) -> None:
    """64 phones asking for advice for some seconds; as if elsewhere, they give way to the service."""
    os.nice(19)
    asked_by(64, port, token, advice(bodies), seconds=ROUNDS * SECONDS)


def _queued_ms(process: int) -> float:
    """Milliseconds the first thread of a process has been ready to run and waited for a processor."""
    return int(Path(f"/proc/{process}/task/{process}/schedstat").read_text().split()[1]) / 1e6


def _stolen() -> int:
    """Ticks of the system's clock in which another machine had the processors."""
    return int(Path("/proc/stat").read_text().split(maxsplit=9)[8])


def questions() -> list[bytes]:
    """Varied questions from another seed of the invented shop: car, codes, readings, some tests."""
    bodies = []
    for place, case in enumerate(made_cases(seed=77, count=160)):
        said = case.complaint
        readings = [
            {"quantity": r.quantity, "value": r.value, "unit": r.unit}
            for r in said.readings
            if r.when == "before"
        ]
        tests = [{"test": t.test, "outcome": t.outcome} for t in said.tests[: place % 3]]
        car = {"year": said.vehicle.year, "make": said.vehicle.make, "model": said.vehicle.model}
        bodies.append(
            {
                "complaint": said.text,
                "vehicle": {**car, "engine": said.vehicle.engine},
                "codes": list(said.codes),
                "readings": readings if place % 2 else [],
                "tests": tests,
            }
        )
    return [json.dumps(body).encode() for body in bodies]


@contextmanager
def serving(folder: Path, size: int, workers: int) -> Iterator[tuple[int, str, int]]:
    """The service on a shop of so many cases: port, a member's token, process id."""
    token = filled(folder, size)
    port = free_port()
    env = {
        **os.environ,
        "BAYLORE_DATA": str(folder),
        "BAYLORE_PORT": str(port),
        "BAYLORE_TUNE_EVERY_S": "0",
        "BAYLORE_WORKERS": str(workers),
        "BAYLORE_LOG_LEVEL": "error",
    }
    command = [sys.executable, "-m", "baylore_service.cli", "serve"]
    server = subprocess.Popen(command, env=env, stdout=subprocess.DEVNULL)
    try:
        warmed_up(port, token)
        yield port, token, server.pid
    finally:
        server.terminate()
        server.wait(timeout=30)


def filled(folder: Path, size: int) -> str:
    """Fill a store with the invented shop; the token of its technician."""
    settings = replace(Settings(), data=folder)
    folder.mkdir(parents=True, exist_ok=True)
    upgrade(settings.store_url)
    house = House.open(settings)
    start = time.perf_counter()
    shop = load(house, count=size)
    token = devices.issue_token(house, shop.technician.id, "benchmark")
    print(f"{size} cases put into the store in {time.perf_counter() - start:.0f} s", file=sys.stderr)
    house.hosts.snapshot(shop.shop.id)
    house.hosts.save()
    house.close()
    print(f"index built and saved after {time.perf_counter() - start:.0f} s", file=sys.stderr)
    return token


def warmed_up(port: int, token: str) -> None:
    """Wait until the index is there and everything compiled, then ask a few times."""
    end = time.monotonic() + 600
    bodies = questions()
    head = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
    while time.monotonic() < end:
        try:
            line = http.client.HTTPConnection("127.0.0.1", port, timeout=300)
            if all(advice(bodies)(line, head, n) == 200 for n in range(WARM_UP)):
                return
        except OSError:
            time.sleep(0.2)
    raise TimeoutError("the service did not answer in ten minutes")


def free_port() -> int:
    """A port nobody listens on."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def memory(pid: int) -> float:
    """Resident megabytes of a process and its children."""
    return sum(held_by_each(pid).values()) / 1024


def worker_of(pid: int) -> int:
    """The process that answers: the largest child of the one that was started."""
    held = held_by_each(pid)
    return max(held.keys() - {pid}, key=held.__getitem__)


def held_by_each(pid: int) -> dict[int, int]:
    """Resident kilobytes of a process and of each of its children."""
    held: dict[int, int] = {}
    for folder in Path("/proc").glob("[0-9]*"):
        try:
            lines = (folder / "status").read_text().splitlines()
        except OSError:
            continue
        told = dict(line.split(":", 1) for line in lines if ":" in line)
        if pid in (int(folder.name), int(told["PPid"])):
            held[int(folder.name)] = int(told.get("VmRSS", "0 kB").split()[0])
    return held


if __name__ == "__main__":
    main()
