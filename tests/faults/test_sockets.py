"""Clients that are slow, stop half way, or send too much: everybody else is answered as ever."""

from __future__ import annotations

import http.client
import socket
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from resource import RLIMIT_FSIZE, prlimit
from urllib.parse import urlsplit

import httpx
import pytest
from tests.faults.phones import phones
from tests.faults.running import Service, Starter, a_service
from tests.service.app_fixtures import COMPLAINT
from tests.service.house_fixtures import CAUSE

from baylore_service.desk import members, shops
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

QUESTION = {"complaint": COMPLAINT}
HALF_OPEN = 150
TEN_MB = 10_000_000


@dataclass(frozen=True)
class Open:
    """A running service with a device of its shop."""

    service: Service
    token: str
    settings: Settings

    def socket(self) -> socket.socket:
        """A bare connection to it."""
        where = urlsplit(self.service.address)
        return socket.create_connection((where.hostname, where.port), timeout=20)

    def head(self, length: int) -> bytes:
        """The head of a question with so long a body."""
        lines = (
            "POST /api/advice HTTP/1.1",
            "Host: shop",
            f"Authorization: Bearer {self.token}",
            "Content-Type: application/json",
            f"Content-Length: {length}",
        )
        return "\r\n".join((*lines, "", "")).encode()


@pytest.fixture(scope="module")
def shop(starter: Starter, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Open]:
    """The service of one shop, for all tests of this file."""
    folder: Path = tmp_path_factory.mktemp("shop")
    settings = Settings(data=folder)
    upgrade(settings.store_url)
    house = House.open(settings)
    made = shops.create_shop(house, name="Corner Garage")
    member = members.add_member(house, shops.console(made), name="Mara", role="manager")
    token = members.issue_token(house, member.id, "phone")
    house.close()
    with a_service(starter, settings, folder) as service:
        service.start()
        yield Open(service, token, settings)


def test_half_open_and_slow_clients_keep_nobody_waiting(shop: Open) -> None:
    with ExitStack() as held, shop.service.client(shop.token) as phone:
        phone.post("/advice", json=QUESTION)
        for n in range(HALF_OPEN):
            half = held.enter_context(shop.socket())
            half.sendall(shop.head(400)[: 20 + n] if n % 2 else shop.head(400) + b'{"complaint": "no')
        started = time.perf_counter()
        answers = [phone.post("/advice", json=QUESTION) for _ in range(5)]
        alone_s = time.perf_counter() - started
        assert [answer.status_code for answer in answers] == [200] * 5 and alone_s < 20
        assert shop.service.is_ready()
    assert shop.service.is_ready()


def test_a_client_that_sends_byte_by_byte_is_answered_in_the_end(shop: Open) -> None:
    body = b'{"complaint": "no crank"}'
    with shop.socket() as slow:
        slow.sendall(shop.head(len(body)))
        for at in range(len(body)):
            slow.sendall(body[at : at + 1])
            time.sleep(0.01)
        assert slow.recv(100).startswith(b"HTTP/1.1 200")


def test_a_client_that_goes_away_in_the_middle_leaves_no_trouble(shop: Open) -> None:
    before = shop.service.log.read_text()
    for cut in (30, 120, 400):
        with shop.socket() as gone:
            gone.sendall((shop.head(5000) + b'{"complaint": "' + b"x" * 300)[:cut])
    with shop.socket() as gone:
        body = b'{"complaint": "no crank"}'
        gone.sendall(shop.head(len(body)) + body)
    with shop.service.client(shop.token) as phone:
        assert phone.post("/advice", json=QUESTION).status_code == 200
    assert '"level": "error"' not in shop.service.log.read_text()[len(before) :]


def test_ten_megabytes_are_refused_and_the_next_request_is_answered(shop: Open) -> None:
    with shop.service.client(shop.token) as phone:
        body = b'{"complaint": "' + b"x" * TEN_MB + b'"}'
        refused = phone.post("/advice", content=body, headers={"Content-Type": "application/json"})
        assert (refused.status_code, refused.json()["type"]) == (413, "/problems/too-large")
        assert phone.post("/advice", json=QUESTION).status_code == 200


def test_a_large_body_in_pieces_without_a_length_is_refused_too(shop: Open) -> None:
    where = urlsplit(shop.service.address)
    line = http.client.HTTPConnection(where.hostname or "", where.port, timeout=20)
    headers = {"Authorization": f"Bearer {shop.token}", "Content-Type": "application/json"}
    pieces = (b"x" * 100_000 for _ in range(100))
    try:
        line.request("POST", "/api/advice", body=pieces, headers=headers, encode_chunked=True)
        assert line.getresponse().status == 413
    except (BrokenPipeError, ConnectionResetError):
        pass  # the connection was cut before all was sent: refused as well
    finally:
        line.close()
    assert shop.service.is_ready()


def test_what_phones_send_while_the_disk_is_full_gets_in_once_there_is_room(shop: Open) -> None:
    made = phones(8, 40, seed=3, cause=CAUSE, client=lambda: shop.service.client(shop.token))
    journal = (shop.settings.data / "baylore.db-wal").stat().st_size
    limits = {pid: prlimit(pid, RLIMIT_FSIZE) for pid in shop.service.processes()}
    for pid, (_, most) in limits.items():
        prlimit(pid, RLIMIT_FSIZE, (journal, most))
    with ThreadPoolExecutor(8) as pool:
        working = [pool.submit(phone.work) for phone in made]
        time.sleep(0.5)
        assert httpx.get(f"{shop.service.address}/health/ready").status_code == 507
        for pid, limit in limits.items():
            prlimit(pid, RLIMIT_FSIZE, limit)
        for each in working:
            each.result()
    assert sum(phone.unanswered for phone in made) >= 8 and shop.service.is_ready()
    house = House.open(shop.settings)
    assert verify(house).good
    house.close()
