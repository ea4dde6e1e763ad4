"""A real service on a free port over a fresh store, with a shop, two members and seeded cases."""

from __future__ import annotations

import json
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import httpx
from past_cases import past_cases

BAYLORE = Path(sys.executable).with_name("baylore")
MANAGER_TOKEN = "manager-token-of-the-browser-tests-0001"
START_LIMIT_S = 60


@dataclass(frozen=True)
class Workshop:
    """Where the service answers, a way to ask it as the manager, and the folder of its store."""

    address: str
    api: httpx.Client
    folder: Path

    def link_for(self, role: str) -> str:
        """A fresh sign-in link for the member of that role."""
        members = self.api.get("/api/members").json()["members"]
        member = next(each["id"] for each in members if each["role"] == role and each["active"])
        code = self.api.post("/api/enrolments", json={"member": member}).json()["code"]
        return f"{self.address}/#/join/{code}"

    def cases_about(self, complaint: str) -> list[dict[str, Any]]:
        """Every stored case with exactly that complaint, with its steps."""
        briefs = self.api.get("/api/cases", params={"limit": 100}).json()["cases"]
        found = [each["id"] for each in briefs if each["complaint"] == complaint]
        return [self.api.get(f"/api/cases/{each}").json() for each in found]


def free_port() -> int:
    """A port nobody listens on just now."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
        return port


def add_manager(env: dict[str, str]) -> None:
    """The first member of a new shop, with a known token."""
    words = ("member", "add", "--name", "Mo", "--role", "manager", "--token", MANAGER_TOKEN)
    subprocess.run([BAYLORE, *words], env=env, check=True, capture_output=True, timeout=START_LIMIT_S)


def wait_until_ready(address: str, server: subprocess.Popen[bytes], log: Path) -> None:
    """Return once the service says it is ready; raise with its last words when it ends or takes too long."""
    deadline = time.monotonic() + START_LIMIT_S
    while time.monotonic() < deadline and server.poll() is None:
        try:
            if httpx.get(f"{address}/health/ready").is_success:
                return
        except httpx.TransportError:
            pass
        time.sleep(0.1)
    raise RuntimeError(f"the service at {address} did not become ready: {log.read_text()[-2000:]}")


@contextmanager
def open_workshop(folder: Path) -> Iterator[Workshop]:
    """The service for as long as the block runs, over a small shop of past cases."""
    with serving(folder) as opened:
        seed(opened.api)
        yield opened


@contextmanager
def open_demo(folder: Path) -> Iterator[Workshop]:
    """The service for as long as the block runs, over the demo shop."""
    env = {**os.environ, "BAYLORE_DATA": str(folder), "BAYLORE_LOG_LEVEL": "error"}
    for act in ("migrate", "demo"):
        subprocess.run([BAYLORE, act], env=env, check=True, capture_output=True, timeout=3 * START_LIMIT_S)
    with serving(folder) as opened:
        yield opened


@contextmanager
def serving(folder: Path) -> Iterator[Workshop]:
    """The service for as long as the block runs, and a manager with a known token in its first shop."""
    port = free_port()
    env = {**os.environ, "BAYLORE_DATA": str(folder), "BAYLORE_PORT": str(port), "BAYLORE_LOG_LEVEL": "error"}
    address = f"http://127.0.0.1:{port}"
    with (folder / "serve.log").open("wb") as log:
        server = subprocess.Popen([BAYLORE, "serve"], env=env, stdout=log, stderr=log)
    try:
        wait_until_ready(address, server, folder / "serve.log")
        add_manager(env)
        headers = {"Authorization": f"Bearer {MANAGER_TOKEN}"}
        with httpx.Client(base_url=address, headers=headers, timeout=30) as api:
            yield Workshop(address, api, folder)
    finally:
        server.terminate()
        server.wait(timeout=20)


def seed(api: httpx.Client) -> None:
    """A technician beside the manager, the past cases, all or nothing, and a first question asked."""
    api.post("/api/members", json={"name": "Tess", "role": "technician"}).raise_for_status()
    lines = "\n".join(json.dumps(each) for each in past_cases())
    sent = api.post("/api/import", content=lines, headers={"Content-Type": "application/x-ndjson"})
    sent.raise_for_status()
    # The first question compiles and loads what all later ones use; a phone would not wait for it.
    api.post("/api/advice", json={"complaint": "one click, no crank"}).raise_for_status()
