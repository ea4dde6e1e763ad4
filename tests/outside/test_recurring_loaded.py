"""Public maintenance records, loaded as cases through the web, count exactly as their owners' files say."""

from __future__ import annotations

import csv
import gzip
import json
import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from uuid import NAMESPACE_URL, uuid5

import pytest
from litestar.testing import TestClient
from tests.service.app_fixtures import Floor, people

from baylore_service.app import create_app
from baylore_service.settings import Settings
from baylore_service.store.migrate import upgrade

DATA = Path(os.environ.get("BAYLORE_OUTSIDE_DATA", "/nowhere"))
CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f]")
COMPLAINTS, ORDERS = DATA / "odi-complaints", DATA / "excavator-orders"


def needs(folder: Path) -> pytest.MarkDecorator:
    """Skips where a set is not there."""
    return pytest.mark.skipif(
        not folder.is_dir(), reason=f"BAYLORE_OUTSIDE_DATA has no {folder.name}: set it to a folder with it"
    )


@pytest.fixture
def empty(tmp_path: Path) -> Iterator[Floor]:
    """A service with a shop and no case."""
    settings = Settings(data=tmp_path)
    upgrade(settings.store_url)
    with TestClient(create_app(settings)) as client:
        house = client.app.state.house
        people(house)
        yield Floor(client, house, settings)


def loaded(floor: Floor, lines: list[dict[str, Any]]) -> None:
    """Import cases in parts that are taken over the web."""
    kind = {"Content-Type": "application/x-ndjson"}
    for start in range(0, len(lines), 500):
        body = "\n".join(json.dumps(line) for line in lines[start : start + 500])
        answer = floor.ask("POST", "/import", who="manager", content=body.encode(), headers=kind)
        assert answer.status_code == 200, answer.text[:400]
        assert answer.json()["added"] == len(lines[start : start + 500]), answer.text


def rows(floor: Floor) -> list[dict[str, Any]]:
    """What keeps failing, by model and cause, single ones too."""
    answer = floor.get("/recurrences?by=make,model,cause&least=1&limit=10000", who="manager").json()
    assert len(answer["rows"]) == answer["pairs"]
    return list(answer["rows"])


def packed(path: Path) -> list[dict[str, Any]]:
    """The objects of a packed file, one a line."""
    with gzip.open(path, "rt", encoding="utf-8") as file:
        return [json.loads(line) for line in file]


def failure(record: str, words: str, **fields: Any) -> dict[str, Any]:
    """A closed case with a cause in the shop's own words; each record its own, however alike the words."""
    id = str(uuid5(NAMESPACE_URL, f"{record}/{words}"))
    return {"id": id, "state": "closed", "cause": f"own.{words}", "cause_title": words} | fields


def year(said: int | str) -> int | None:
    """A model year; the records write 9999 for one not known."""
    return None if int(said) == 9999 else int(said)


def filed(said: str) -> str:
    """A day of the complaints, written 01/31/2019 or 20190131."""
    if "/" in said:
        month, day, in_year = said.split("/")
        return f"{in_year}-{month}-{day}"
    return f"{said[:4]}-{said[4:6]}-{said[6:]}"


def years(row: dict[str, str]) -> list[int] | None:
    """First and last model year of an expected row, None where none is known."""
    known = [year(row["year_min"]), year(row["year_max"])]
    return None if None in known else [each for each in known if each]


def complaint_lines() -> list[dict[str, Any]]:
    """One case for each component of a complaint."""
    return [
        failure(
            each["id"],
            component,
            complaint=CONTROL.sub(" ", each["text"]),
            vehicle={"year": year(each["year"]), "make": each["make"], "model": each["model"]},
            opened=f"{filed(each['filed'])}T12:00:00Z",
        )
        for each in packed(COMPLAINTS / "complaints.jsonl.gz")
        for component in each["components"]
    ]


def order_lines() -> list[dict[str, Any]]:
    """One case for each order; money is what it cost beside parts and labour."""
    return [
        failure(
            each["id"],
            each["major_system"],
            complaint=each["text"] or "no words",
            vehicle={"make": "Digger", "model": each["asset"]},
            opened=f"{each['date']}T12:00:00Z",
            cost={"other": each["cost"] or 0.0, "currency": "EUR"},
        )
        for each in packed(ORDERS / "orders.jsonl.gz")
        if each["major_system"]
    ]


def expected(folder: Path) -> list[dict[str, str]]:
    """The rows that must come out."""
    with (folder / "expected_recurring.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


@needs(COMPLAINTS)
def test_owners_complaints_count_by_model_and_component_exactly(empty: Floor) -> None:
    loaded(empty, complaint_lines())
    found = {
        (row["key"]["make"], row["key"]["model"], row["key"]["cause"]): (row["observed"], row["years"])
        for row in rows(empty)
    }
    wanted = {
        (row["make"], f"{row['make']} {row['model']}", f"own.{row['component']}"): (
            int(row["n"]),
            years(row),
        )
        for row in expected(COMPLAINTS)
    }
    assert found == wanted


@needs(ORDERS)
def test_work_orders_count_with_their_cost_and_dates_exactly(empty: Floor) -> None:
    loaded(empty, order_lines())
    found = {
        (row["key"]["model"], row["key"]["cause"]): (
            row["observed"],
            f"{row['total_cost']:.2f}",
            row["first"][:10],
            row["last"][:10],
        )
        for row in rows(empty)
    }
    wanted = {
        (f"Digger {row['asset']}", f"own.{row['major_system']}"): (
            int(row["n"]),
            f"{float(row['cost']):.2f}",
            row["first"],
            row["last"],
        )
        for row in expected(ORDERS)
    }
    assert found == wanted
