"""Real service processes for tests: each started on a free port of loopback and stopped by its id."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

import httpx
from tests.postgres import free_port

from baylore_service.settings import Settings

READY_WITHIN_S = 90.0


@dataclass
class Served:
    """A running service: its address, and its process to be killed by whoever wants to."""

    address: str
    process: subprocess.Popen[bytes]
    log: Path

    def client(self, token: str, **headers: str) -> httpx.Client:
        """A client signed in with a token."""
        signed = {"Authorization": f"Bearer {token}"} | headers
        return httpx.Client(base_url=f"{self.address}/api", headers=signed, timeout=30)

    def wait_ready(self) -> None:
        """Wait until it says it is ready."""
        until = time.monotonic() + READY_WITHIN_S
        while time.monotonic() < until and self.process.poll() is None:
            with suppress(httpx.HTTPError):
                if httpx.get(f"{self.address}/health/ready").status_code == 200:
                    return
            time.sleep(0.1)
        raise AssertionError(f"the service did not become ready: {self.log.read_text()[-2000:]}")


@contextmanager
def served(settings: Settings, folder: Path, more: Mapping[str, str] | None = None) -> Iterator[Served]:
    """A service process over a store; `more` are further variables of its environment."""
    port = free_port()
    given = {
        "BAYLORE_DATA": str(settings.data),
        "BAYLORE_DATABASE_URL": settings.database_url,
        "BAYLORE_HOST": "127.0.0.1",
        "BAYLORE_PORT": str(port),
        "OPENBLAS_NUM_THREADS": "1",
    }
    command = [sys.executable, "-m", "baylore_service.cli", "serve"]
    log = folder / f"service-{port}.log"
    with log.open("ab") as said:
        process = subprocess.Popen(
            command, env=os.environ | given | dict(more or {}), stdout=said, stderr=said
        )
    try:
        yield Served(f"http://127.0.0.1:{port}", process, log)
    finally:
        process.terminate()
        try:
            process.wait(20)
        except subprocess.TimeoutExpired:
            process.kill()
            process.wait()


@contextmanager
def all_served(settings: Settings, folder: Path, count: int) -> Iterator[list[Served]]:
    """So many service processes over one store, started together, all ready."""
    with ExitStack() as stack:
        running = [stack.enter_context(served(settings, folder)) for _ in range(count)]
        for each in running:
            each.wait_ready()
        yield running
