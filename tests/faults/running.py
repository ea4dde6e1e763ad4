"""A real service over a store, started, killed and started again on the same port."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import httpx

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


class Service:
    """Starts with `start`; `kill` ends all its processes at once, `stop` as a system would."""

    def __init__(self, starter: subprocess.Popen[str], port: int, log: Path) -> None:
        self._starter, self._port, self.log = starter, port, log
        self.address = f"http://127.0.0.1:{port}"
        self.pid = 0

    def start(self) -> None:
        """Start, and return once it is ready."""
        assert self._starter.stdin is not None and self._starter.stdout is not None
        wait_for(self._is_away, "the port to be free")
        self._starter.stdin.write("start\n")
        self._starter.stdin.flush()
        self.pid = int(self._starter.stdout.readline())
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
        "PYTHONPATH": os.pathsep.join([str(ROOT), os.environ.get("PYTHONPATH", "")]),
    }


@contextmanager
def a_service(settings: Settings, folder: Path, extra: Mapping[str, str] | None = None) -> Iterator[Service]:
    """A service over a migrated store, not started yet; nothing of it is left afterwards."""
    port, log = free_port(), folder / "serve.log"
    env = os.environ | environment(settings, port) | (extra or {})
    with log.open("ab") as out:
        starter = subprocess.Popen(
            [sys.executable, str(STARTER)],
            env=env,
            cwd=ROOT,
            text=True,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=out,
        )
    try:
        yield Service(starter, port, log)
    finally:
        starter.communicate(timeout=30)
