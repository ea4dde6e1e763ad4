"""Repairs, skipped tests and objections through the web: kept, corrected, undone, carried along."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.service.app_fixtures import COMPLAINT, Floor, new_id
from tests.service.test_routes_refusals import check_problem

CAUSE = "starting.ground_cable.high_resistance"
REPAIR = {"cause": CAUSE, "result": "no change", "minutes": 20, "note": "lugs cleaned"}
SKIP = {"test": "crank_drop_neg", "because": "no tool", "note": "meter is lent out"}
OBJECTION = {"cause": CAUSE, "because": "already renewed", "note": "in May"}
TRIED = [("repairs", "repairs", REPAIR), ("skips", "skipped", SKIP), ("objections", "objections", OBJECTION)]


@pytest.mark.parametrize(("path", "field", "body"), TRIED)
def test_what_was_tried_and_said_is_kept_as_a_step(
    floor: Floor, path: str, field: str, body: dict[str, Any]
) -> None:
    case, step_id = floor.open_case(), new_id()
    answer = floor.post(f"/cases/{case['id']}/{path}", body | {"id": step_id})
    assert answer.status_code == 201 and answer.headers["etag"] == f'"{answer.json()["revision"]}"'
    step = answer.json()[field][0]
    assert (step["id"], step["by"]) == (step_id, "Ivo") and step["at"]
    assert {name: step[name] for name in body} == body
    assert floor.get(f"/cases/{case['id']}").json() == answer.json()


@pytest.mark.parametrize(("path", "field", "body"), TRIED)
def test_a_step_sent_twice_with_its_key_is_kept_once(
    floor: Floor, path: str, field: str, body: dict[str, Any]
) -> None:
    case = floor.open_case()
    key = {"Idempotency-Key": "k1"}
    first = floor.post(f"/cases/{case['id']}/{path}", body, headers=key)
    again = floor.post(f"/cases/{case['id']}/{path}", body, headers=key)
    assert again.headers["idempotent-replay"] == "true" and again.json() == first.json()
    other = floor.post(f"/cases/{case['id']}/{path}", body | {"note": "other"}, headers=key)
    check_problem(other, 422, "Idempotency-Key")
    assert len(floor.get(f"/cases/{case['id']}").json()[field]) == 1


@pytest.mark.parametrize(("path", "field", "body"), TRIED)
def test_what_was_tried_and_said_can_be_taken_back(
    floor: Floor, path: str, field: str, body: dict[str, Any]
) -> None:
    case = floor.open_case()
    step = floor.post(f"/cases/{case['id']}/{path}", body).json()[field][0]
    answer = floor.ask("DELETE", f"/cases/{case['id']}/steps/{step['id']}")
    assert answer.status_code == 200 and answer.json()[field] == []


@pytest.mark.parametrize(
    ("path", "body", "field"),
    [
        ("repairs", REPAIR | {"cause": "starting.ground_cabel.high_resistance"}, "cause"),
        ("repairs", REPAIR | {"cause": "own."}, "cause"),
        ("repairs", REPAIR | {"result": "failed later"}, "result"),
        ("repairs", {"cause": CAUSE}, "result"),
        ("repairs", REPAIR | {"minutes": -1}, "minutes"),
        ("repairs", REPAIR | {"note": "x" * 1001}, "note"),
        ("skips", SKIP | {"test": "crank_drop_ngg"}, "test"),
        ("skips", SKIP | {"because": "lazy"}, "because"),
        ("skips", SKIP | {"note": "\x00"}, "note"),
        ("objections", OBJECTION | {"cause": "gremlins"}, "cause"),
        ("objections", {"cause": CAUSE}, "because"),
        ("objections", OBJECTION | {"note": "x" * 1001}, "note"),
    ],
)
def test_a_step_that_cannot_be_is_refused(floor: Floor, path: str, body: dict[str, Any], field: str) -> None:
    case = floor.open_case()
    check_problem(floor.post(f"/cases/{case['id']}/{path}", body), 422, field)
    assert floor.get(f"/cases/{case['id']}").json() == case


def test_a_misspelt_cause_is_answered_with_the_nearest(floor: Floor) -> None:
    case = floor.open_case()
    body = OBJECTION | {"cause": "starting.ground_cabel.high_resistance"}
    assert CAUSE in floor.post(f"/cases/{case['id']}/objections", body).json()["remedy"]


def test_causes_and_tests_of_the_shops_own_are_taken(floor: Floor) -> None:
    case = floor.open_case(
        repairs=[REPAIR | {"cause": "own.mouse_nest"}],
        skipped=[SKIP | {"test": "own.shake_the_loom"}],
        objections=[OBJECTION | {"cause": "own.mouse_nest"}],
    )
    assert case["repairs"][0]["cause"] == "own.mouse_nest" == case["objections"][0]["cause"]
    assert case["skipped"][0]["test"] == "own.shake_the_loom"


def test_a_case_is_opened_with_all_of_it(floor: Floor) -> None:
    case = floor.open_case(
        repairs=[REPAIR], skipped=[SKIP], objections=[OBJECTION], shows_when=["hot", "rain", "hot"]
    )
    assert [len(case[field]) for _, field, _ in TRIED] == [1, 1, 1]
    assert case["shows_when"] == ["hot", "rain"]


def test_when_the_fault_shows_can_be_changed_and_emptied(floor: Floor) -> None:
    case = floor.open_case(shows_when=["hot"])
    for sent, kept in ((["rain"], ["rain"]), (None, [])):
        tag = {"If-Match": f'"{case["revision"]}"'}
        answer = floor.ask("PATCH", f"/cases/{case['id']}", json={"shows_when": sent}, headers=tag)
        case = answer.json()
        assert answer.status_code == 200 and case["shows_when"] == kept


@pytest.mark.parametrize("address", ["/advice", "/cases"])
@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"repairs": [REPAIR, REPAIR | {"cause": "gremlins"}]}, "repairs[1].cause"),
        ({"skipped": [SKIP | {"test": "gremlins"}]}, "skipped[0].test"),
        ({"objections": [OBJECTION | {"cause": "gremlins"}]}, "objections[0].cause"),
        ({"objections": [OBJECTION] * 101}, "objections"),
        ({"shows_when": ["when nobody looks"]}, "shows_when[0]"),
        ({"shows_when": ["hot", "gremlins"]}, "shows_when[1]"),
    ],
)
def test_advice_and_cases_refuse_alike_what_cannot_be(
    floor: Floor, address: str, body: dict[str, Any], field: str
) -> None:
    check_problem(floor.post(address, {"complaint": COMPLAINT} | body), 422, field)


def leading(answer: dict[str, Any], cause: str) -> float:
    """The chance of a cause, 0 where it is not named."""
    return float(next((row["probability"] for row in answer["causes"] if row["cause"] == cause), 0.0))


def test_an_objection_lowers_the_cause_in_advice_and_for_the_stored_case(floor: Floor) -> None:
    asked = {"complaint": "one click and nothing, will not crank, lamps bright"}
    before = floor.post("/advice", asked).json()
    first = before["causes"][0]["cause"]
    said = {"cause": first, "because": "proved good"}
    after = floor.post("/advice", asked | {"objections": [said]}).json()
    assert leading(after, first) < leading(before, first)
    case = floor.open_case(**asked)
    floor.post(f"/cases/{case['id']}/objections", said)
    stored = floor.get(f"/cases/{case['id']}/advice").json()
    assert leading(stored, first) < leading(before, first)


def test_phones_hear_of_it_by_the_change_log(floor: Floor) -> None:
    case = floor.open_case()
    for path, _, body in TRIED:
        case = floor.post(f"/cases/{case['id']}/{path}", body).json()
    told = floor.get("/changes?after=0").json()["changes"][-1]
    assert told["case"] == case and all(told["case"][field] for _, field, _ in TRIED)


def moved(floor: Floor, body: bytes) -> dict[str, Any]:
    """The report of an import."""
    kind = {"Content-Type": "application/x-ndjson"}
    answer = floor.ask("POST", "/import", who="stranger", content=body, headers=kind)
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


def test_it_moves_out_and_in_without_a_change(floor: Floor) -> None:
    case = floor.open_case(repairs=[REPAIR], skipped=[SKIP], objections=[OBJECTION], shows_when=["hot"])
    lines = floor.get("/export", who="manager").content
    assert moved(floor, lines)["added"] == 1 and moved(floor, lines)["unchanged"] == 1
    came = floor.get(f"/cases/{case['id']}", who="stranger").json()
    for field in ("repairs", "skipped", "objections", "shows_when"):
        assert came[field] == case[field]


def test_a_line_of_an_older_export_is_still_read(floor: Floor) -> None:
    case = floor.open_case()
    older = {name: value for name, value in case.items() if name not in ("repairs", "skipped", "objections")}
    older.pop("shows_when")
    assert moved(floor, json.dumps(older).encode())["added"] == 1
    came = floor.get(f"/cases/{case['id']}", who="stranger").json()
    assert (came["repairs"], came["skipped"], came["objections"], came["shows_when"]) == ([], [], [], [])
