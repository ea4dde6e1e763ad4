"""The whole memory, photos included, moves to another service and is the same there."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

from litestar import Litestar
from litestar.testing import TestClient
from tests.contract import story
from tests.service.app_fixtures import Floor, people

from baylore_service.desk.house import House
from baylore_service.routes.metrics import Meter
from baylore_service.settings import Settings

KIND = {"Content-Type": "application/x-ndjson"}


def exported(floor: Floor) -> list[dict[str, Any]]:
    """The memory, line by line; what each service numbers or names for itself left out."""
    lines = [json.loads(line) for line in floor.get("/export", who="manager").text.splitlines()]
    return [{name: value for name, value in line.items() if name != "revision"} for line in lines]


def photos(floor: Floor) -> dict[str, bytes]:
    """The bytes of every photo by its address."""
    found = {}
    for case in floor.get("/cases?limit=100", who="manager").json()["cases"]:
        for photo in floor.get(f"/cases/{case['id']}", who="manager").json()["photos"]:
            path = f"/cases/{case['id']}/photos/{photo['id']}"
            found[path] = floor.get(path, who="manager").content
    return found


def test_it_is_identical_there_and_comes_back_identical(
    floor: Floor, client: TestClient[Litestar], empty_sqlite: Path, tmp_path: Path
) -> None:
    teller = story.Teller(floor)
    for chapter in (story.past, story.work, story.ending, story.own):
        chapter(teller)
    body = floor.get("/export", who="manager").content
    here, pictures = exported(floor), photos(floor)
    assert len(pictures) == 1 and {line["kind"] for line in here} >= {"shop", "case", "photo"}
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    shutil.copy(empty_sqlite, folder / "baylore.db")
    other = Floor(client, House.open(Settings(data=folder)), Settings(data=folder))
    people(other.house)
    client.app.state.house, client.app.state.meter = other.house, Meter()
    report = other.ask("POST", "/import", content=body, headers=KIND, who="manager").json()
    assert (report["refused"], report["lines"]) == (0, [])
    there = exported(other)
    assert [line for line in there if line["kind"] != "shop"] == [
        line for line in here if line["kind"] != "shop"
    ]
    assert photos(other) == pictures
    back = other.get("/export", who="manager").content
    other.house.close()
    client.app.state.house = floor.house
    assert floor.ask("POST", "/import", content=back, headers=KIND, who="manager").json()["updated"] == 0
    assert exported(floor) == here
