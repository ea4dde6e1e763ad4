"""What phones reckon with: handed out once for each content, and the record is of this engine."""

from __future__ import annotations

import gzip
import json

from tests.contract.record_reasoning import FILE, QUESTIONS
from tests.service.app_fixtures import Floor

from baylore_kb import handout
from baylore_kb.trade import load


def test_what_is_known_already_is_not_sent_again(floor: Floor) -> None:
    first = floor.get("/reasoning/lists")
    again = floor.get("/reasoning/lists", headers={"If-None-Match": first.headers["ETag"]})
    assert (first.status_code, again.status_code, again.content) == (200, 304, b"")
    assert first.json()["tests"].keys() == load().tests.keys()


def test_a_new_open_case_leaves_the_shops_part_as_it_was(floor: Floor) -> None:
    before = floor.get("/reasoning/shop").headers["ETag"]
    floor.open_case(complaint="runs hot in traffic")
    assert floor.get("/reasoning/shop", headers={"If-None-Match": before}).status_code == 304


def test_a_tool_that_is_lent_out_changes_the_shops_part(floor: Floor) -> None:
    before = floor.get("/reasoning/shop").headers["ETag"]
    floor.ask("PATCH", "/shop", who="manager", json={"lacks": ["multimeter"]})
    after = floor.get("/reasoning/shop", headers={"If-None-Match": before})
    assert after.status_code == 200
    assert after.json()["lacking"]


def test_another_part_is_refused_with_the_names_of_those_there_are(floor: Floor) -> None:
    answer = floor.get("/reasoning/everything")
    assert answer.status_code == 404
    assert "lists, shop" in answer.json()["remedy"]


def test_the_record_that_the_phone_is_held_against_is_of_this_engine() -> None:
    recorded = json.loads(gzip.decompress(FILE.read_bytes()))
    assert len(recorded["asked"]) == QUESTIONS
    now = json.loads(json.dumps(handout.lists(load())))
    known = recorded["lists"]
    assert {name: known[name] for name in ("format", "numbers", "codes")} == {
        name: now[name] for name in ("format", "numbers", "codes")
    }, "run `python -m tests.contract.record_reasoning`"
    assert recorded["lists"]["tests"].keys() >= now["tests"].keys()
