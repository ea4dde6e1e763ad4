"""The demo shop from the command line, and a real server in front of it."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from baylore_service.cli import main


@pytest.fixture(scope="module")
def data(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo shop in it."""
    folder = tmp_path_factory.mktemp("demo")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("BAYLORE_DATA", str(folder))
        assert main(["migrate"]) == 0 and main(["demo"]) == 0
    return folder


@pytest.fixture
def here(data: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The demo shop as the store of the command line."""
    monkeypatch.setenv("BAYLORE_DATA", str(data))
    return data


@pytest.fixture
def address(here: Path) -> Iterator[str]:
    """A server of its own process; stopped afterwards."""
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    command = [sys.executable, "-m", "baylore_service.cli", "serve", "--port", str(port)]
    with subprocess.Popen(command, env=os.environ | {"BAYLORE_DATA": str(here)}) as server:
        yield f"http://127.0.0.1:{port}"
        server.terminate()


def wait_for(address: str, *, tries: int = 200) -> httpx.Response:
    """The first answer of a server that is starting."""
    for _ in range(tries):
        try:
            return httpx.get(f"{address}/health/ready")
        except httpx.TransportError:
            time.sleep(0.1)
    raise AssertionError(f"{address} does not answer")


def test_the_demo_shop_is_loaded_once(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["export", str(here / "once.ndjson")])
    assert main(["demo"]) == 0
    main(["export", str(here / "twice.ndjson")])
    assert (here / "once.ndjson").read_bytes() == (here / "twice.ndjson").read_bytes()


def test_the_demo_shop_prints_fresh_links_for_both(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo", "--links"]) == 0
    links = re.findall(r"\((technician|manager)\): (http://\S+/#/join/\S+)", capsys.readouterr().out)
    assert [role for role, _ in links] == ["technician", "manager"]
    assert len({link for _, link in links}) == 2


def test_the_shops_own_memory_is_scored(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["score"]) == 0
    assert re.search(r"closed cases asked of the others: [1-9]", capsys.readouterr().out)


def test_jobs_of_invented_shops_are_played(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["score", "--simulate", "--closed", "8", "--jobs", "2", "--towns", "1"]) == 0
    told = capsys.readouterr().out
    assert "simulated jobs: 2, 8 closed cases" in told and "as planned" in told


def test_a_served_shop_signs_a_phone_in_and_answers(address: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert wait_for(address).json() == {"status": "ready"}
    assert main(["demo", "--links"]) == 0
    code = re.findall(r"/#/join/(\S+)", capsys.readouterr().out)[0]
    joined = httpx.post(f"{address}/api/devices", json={"code": code, "name": "phone"})
    headers = {"Authorization": f"Bearer {joined.json()['token']}"}
    asked = {"complaint": "ac cold thn warm 20 min"}
    advice = httpx.post(f"{address}/api/advice", json=asked, headers=headers, timeout=60)
    assert advice.status_code == 200 and advice.json()["cases"]


def test_a_tuning_is_tried_on_the_shops_own_cases(here: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["tune"]) == 0
    said = capsys.readouterr().out
    assert "trial 1: asked" in said and "adopted" in said
    losses = re.search(r"shipped (\d\.\d+), tuned (\d\.\d+)", said)
    assert losses is not None
    assert ("not adopted" in said) == (float(losses[2]) >= float(losses[1]))
