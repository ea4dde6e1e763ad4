"""What a client may cost: bodies, depth, headers, time, and whose address is believed."""

from __future__ import annotations

import asyncio
import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from litestar.connection import ASGIConnection
from tests.service.app_fixtures import Floor
from tests.service.test_routes_refusals import check_problem

from baylore_service.errors import TooSlow
from baylore_service.routes.access import address_of
from baylore_service.routes.patience import Patience
from baylore_service.settings import Settings

BAYLORE = Path(sys.executable).with_name("baylore")


@pytest.mark.parametrize("deep", [b"[" * 100_000, b'{"complaint":' * 50_000, b'{"vehicle":' + b"[" * 3000])
def test_deep_json_is_refused_in_plain_words(floor: Floor, deep: bytes) -> None:
    headers = {"Content-Type": "application/json"}
    for path in ("/advice", "/cases", "/readings/judge", "/import"):
        kind = headers if path != "/import" else {"Content-Type": "application/x-ndjson"}
        answer = floor.ask("POST", path, content=deep, headers=kind, who="manager")
        assert answer.status_code in (400, 422), answer.text[:200]


def test_a_body_beyond_the_limit_is_refused_however_it_comes(floor: Floor) -> None:
    large = b'{"complaint":"' + b"x" * floor.settings.max_json_bytes + b'"}'
    headers = {"Content-Type": "application/json"}
    check_problem(floor.ask("POST", "/advice", content=large, headers=headers), 413)
    pieces = (large[at : at + 50_000] for at in range(0, len(large), 50_000))
    check_problem(floor.ask("POST", "/advice", content=pieces, headers=headers), 413)


def slow(pieces: list[tuple[bytes, float]]) -> Any:
    """Gives these pieces, each after so many seconds."""
    left = iter(pieces)

    async def receive() -> dict[str, Any]:
        piece, seconds = next(left)
        await asyncio.sleep(seconds)
        return {"type": "http.request", "body": piece, "more_body": piece != b""}

    return receive


def test_a_body_that_drips_is_given_up() -> None:
    async def read() -> None:
        patience = Patience(slow([(b"x", 0.02)] * 50), 0.1)
        while True:
            await patience.receive()

    with pytest.raises(TooSlow):
        asyncio.run(read())


def test_after_the_body_there_is_time_without_end() -> None:
    async def read() -> Any:
        patience = Patience(slow([(b"", 0), (b"late", 0.2)]), 0.05)
        await patience.receive()
        return await patience.receive()

    assert asyncio.run(read())["body"] == b"late"


@pytest.mark.parametrize(
    ("proxies", "peer", "named", "believed"),
    [
        ("", "192.0.2.1", "203.0.113.9", "192.0.2.1"),
        ("10.0.0.0/8", "192.0.2.1", "203.0.113.9", "192.0.2.1"),
        ("10.0.0.0/8", "10.1.1.1", "203.0.113.9", "203.0.113.9"),
        ("10.0.0.0/8", "10.1.1.1", "198.51.100.1, 203.0.113.9", "203.0.113.9"),
        ("10.0.0.0/8", "10.1.1.1", "203.0.113.9, 10.2.2.2", "203.0.113.9"),
        ("10.0.0.0/8", "10.1.1.1", "", "10.1.1.1"),
        ("::1, 127.0.0.1", "::1", "2001:db8::1", "2001:db8::1"),
        ("10.0.0.0/8", "10.1.1.1", "nonsense", "nonsense"),
    ],
)
def test_only_configured_proxies_say_whom_they_speak_for(
    proxies: str, peer: str, named: str, believed: str
) -> None:
    headers = [(b"x-forwarded-for", named.encode())] if named else []
    scope: Any = {"type": "http", "client": (peer, 5), "headers": headers}
    assert address_of(ASGIConnection(scope), replace(Settings(), trusted_proxies=proxies)) == believed


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[int]:
    """A real service that waits a second for a body; its port."""
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port: int = probe.getsockname()[1]
    folder = tmp_path_factory.mktemp("server")
    env = os.environ | {"BAYLORE_DATA": str(folder), "BAYLORE_PORT": str(port), "BAYLORE_BODY_SECONDS": "1"}
    process = subprocess.Popen([BAYLORE, "serve"], env=env, stdout=subprocess.DEVNULL)
    wait_for(process, port)
    yield port
    process.terminate()
    process.wait(20)


def wait_for(process: subprocess.Popen[bytes], port: int) -> None:
    """Until it answers."""
    for _ in range(600):
        assert process.poll() is None
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
            return
        except OSError:
            time.sleep(0.1)


def say(port: int, text: bytes) -> bytes:
    """Send this much of a request and read what comes until the server hangs up or has answered."""
    with socket.create_connection(("127.0.0.1", port), timeout=20) as wire:
        wire.sendall(text)
        return wire.recv(200)


def test_a_half_sent_body_is_answered_408_by_the_real_server(server: int) -> None:
    head = b"POST /api/devices HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    head += b"Content-Length: 50\r\n\r\n"
    assert say(server, head + b'{"code":').startswith(b"HTTP/1.1 408")


def test_headers_without_end_are_refused_by_the_real_server(server: int) -> None:
    many = b"".join(b"X-%d: %s\r\n" % (n, b"y" * 900) for n in range(90))
    assert say(server, b"GET /health/live HTTP/1.1\r\nHost: x\r\n" + many + b"\r\n")[9:12] in (b"431", b"400")
    assert b" 200 " in say(server, b"GET /health/live HTTP/1.1\r\nHost: x\r\n\r\n")
