"""A real service over a store, started, killed and started again on the same port."""

from __future__ import annotations

import json
import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path

import httpx
import pytest

from baylore_service.settings import Settings

STARTER = Path(__file__).with_name("starter.py")
ROOT = STARTER.parents[2]
START_LIMIT_S = 90.0


def free_port() -> int:
    """A port nobody listens on just now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


class Starter:
    """The process that services are forked from, so that each starts in no time."""

    def __init__(self) -> None:
        path = os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")])
        self._process = subprocess.Popen(
            [sys.executable, str(STARTER)],
            env={**os.environ, "PYTHONPATH": path},
            cwd=ROOT,
            text=True,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
        )

    def start(self, environment: Mapping[str, str], log: Path) -> int:
        """A service with these settings; the id of its process and group."""
        assert self._process.stdin is not None and self._process.stdout is not None
        self._process.stdin.write(json.dumps({"environment": {**environment}, "log": str(log)}) + "\n")
        self._process.stdin.flush()
        return int(self._process.stdout.readline())

    def close(self) -> None:
        """End it, and whatever it started."""
        self._process.communicate(timeout=30)


@pytest.fixture(scope="session")
def starter() -> Iterator[Starter]:
    """One starter for all tests."""
    made = Starter()
    yield made
    made.close()


class Service:
    """Starts with `start`; `kill` ends all its processes at once, `stop` as a system would."""

    def __init__(self, starter: Starter, environment: Mapping[str, str], log: Path) -> None:
        self._starter, self._environment, self.log = starter, environment, log
        self._port = int(environment["BAYLORE_PORT"])
        self.address = f"http://127.0.0.1:{self._port}"
        self.pid = 0

    def start(self) -> None:
        """Start, and return once it is ready."""
        wait_for(self._is_away, "the port to be free")
        self.pid = self._starter.start(self._environment, self.log)
        wait_for(self.is_ready, f"the service to be ready, see {self.log}")

    def kill(self) -> None:
        """End all its processes without a word, in the middle of whatever they do."""
        os.killpg(self.pid, signal.SIGKILL)

    def stop(self, limit_s: float = 30.0) -> None:
        """Ask it to end, and return once its port is free."""
        os.kill(self.pid, signal.SIGTERM)
        wait_for(self._is_away, "the service to stop", limit_s=limit_s)

    def signal_end(self) -> None:
        """Ask it to end, and go on."""
        os.kill(self.pid, signal.SIGTERM)

    def processes(self) -> list[int]:
        """Its processes that are not over."""
        stats = (entry / "stat" for entry in Path("/proc").iterdir() if entry.name.isdecimal())
        return [pid for stat in stats if (pid := _living(stat, self.pid))]

    def is_ready(self) -> bool:
        """Whether it says so."""
        try:
            return httpx.get(f"{self.address}/health/ready", timeout=5).is_success
        except httpx.TransportError:
            return False

    def client(self, token: str) -> httpx.Client:
        """A phone of its own, with a connection of its own."""
        return httpx.Client(
            base_url=f"{self.address}/api", headers={"Authorization": f"Bearer {token}"}, timeout=30
        )

    def _is_away(self) -> bool:
        try:
            socket.create_connection(("127.0.0.1", self._port), timeout=1).close()
        except OSError:
            return True
        return False


def _living(stat: Path, group: int) -> int:
    """The id of a process of this group that is not over, else 0."""
    try:
        pid, rest = stat.read_text().split(" (", 1)
    except OSError:
        return 0
    state, _parent, its_group = rest.rpartition(") ")[2].split()[:3]
    return int(pid) if int(its_group) == group and state not in "ZX" else 0


def wait_for(happens: object, what: str, *, limit_s: float = START_LIMIT_S) -> None:
    """Return once it is so; fail with what was waited for."""
    assert callable(happens)
    deadline = time.monotonic() + limit_s
    while time.monotonic() < deadline:
        if happens():
            return
        time.sleep(0.02)
    raise AssertionError(f"waited {limit_s} s for {what}")


def environment(settings: Settings, port: int) -> dict[str, str]:
    """What a service reads its settings from."""
    return {
        "BAYLORE_DATA": str(settings.data),
        "BAYLORE_DATABASE_URL": settings.database_url,
        "BAYLORE_PORT": str(port),
        "BAYLORE_LOG_LEVEL": "warning",
    }


@contextmanager
def a_service(starter: Starter, settings: Settings, folder: Path, **extra: str) -> Iterator[Service]:
    """A service over a migrated store, not started yet; nothing of it is left afterwards."""
    made = Service(starter, environment(settings, free_port()) | extra, folder / "serve.log")
    try:
        yield made
    finally:
        if made.pid:
            with suppress(ProcessLookupError):
                made.kill()
