"""What cannot be is refused with the field and a remedy, and nothing of it is kept."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import CAR, COMPLAINT, PART, READING, TEST, Floor, new_id

Body = dict[str, Any]

BAD_CASES: dict[str, tuple[Body, str]] = {
    "wrong unit": ({"readings": [READING | {"unit": "km"}]}, "readings[0].unit"),
    "unknown unit": ({"readings": [READING | {"unit": "zorkmids"}]}, "readings[0].unit"),
    "unit of a condition": (
        {"readings": [READING | {"conditions": {"battery_temp_c": {"value": 20, "unit": "V"}}}]},
        "readings[0].conditions.battery_temp_c.unit",
    ),
    "unknown quantity": ({"readings": [READING | {"quantity": "batt_rst"}]}, "readings[0].quantity"),
    "number as text": ({"readings": [READING | {"value": "12.1"}]}, "readings[0].value"),
    "number beyond all bounds": ({"readings": [READING | {"value": 1e13}]}, "readings[0].value"),
    "second reading": ({"readings": [READING, READING | {"unit": ""}]}, "readings[1].unit"),
    "unknown test": ({"tests": [TEST | {"test": "look_hard"}]}, "tests[0].test"),
    "outcome of another test": ({"tests": [TEST | {"outcome": "purple"}]}, "tests[0].outcome"),
    "negative minutes": ({"tests": [TEST | {"minutes": -1}]}, "tests[0].minutes"),
    "unknown component": ({"parts": [PART | {"component": "charging.batery"}]}, "parts[0].component"),
    "unknown source": ({"parts": [PART | {"source": "a friend"}]}, "parts[0].source"),
    "negative price": ({"parts": [PART | {"price": -3}]}, "parts[0].price"),
    "unknown symptom": ({"symptoms": ["wont_sing"]}, "symptoms[0]"),
    "malformed code": ({"codes": ["B1342", "Z99"]}, "codes[1]"),
    "malformed code with a state": ({"codes": [{"code": "P04", "state": "stored"}]}, "codes[0]"),
    "short VIN": ({"vehicle": CAR | {"vin": "1G4AH59H45G11834"}}, "vehicle.vin"),
    "VIN with a wrong check digit": ({"vehicle": CAR | {"vin": "1G4AH59H55G118341"}}, "vehicle.vin"),
    "year long ago": ({"vehicle": CAR | {"year": 1800}}, "vehicle.year"),
    "year to come": ({"vehicle": CAR | {"year": 2090}}, "vehicle.year"),
    "negative odometer": (
        {"vehicle": CAR | {"odometer": {"value": -1, "unit": "km"}}},
        "vehicle.odometer.value",
    ),
    "odometer in volts": (
        {"vehicle": CAR | {"odometer": {"value": 1, "unit": "V"}}},
        "vehicle.odometer.unit",
    ),
    "over-long make": ({"vehicle": CAR | {"make": "x" * 61}}, "vehicle.make"),
    "unknown trait": ({"vehicle": CAR | {"traits": ["flies"]}}, "vehicle.traits[0]"),
    "opened in the future": ({"opened": "2999-01-01T00:00:00Z"}, "opened"),
    "opened without a zone": ({"opened": "2020-01-01T00:00:00"}, "opened"),
    "over-long text": ({"complaint": "x" * 4001}, "complaint"),
    "blank text": ({"complaint": " \n "}, "complaint"),
    "no text": ({"complaint": None}, "complaint"),
    "NUL in the text": ({"complaint": "runs\x00by itself"}, "complaint"),
    "NUL in a word": ({"vehicle": CAR | {"model": "Lin\x00net"}}, "vehicle.model"),
    "line break in a word": ({"vehicle": CAR | {"model": "Linnet\n"}}, "vehicle.model"),
    "bell in a note": ({"note": "ding\x07"}, "note"),
    "unknown field": ({"complaints": "x"}, "complaints"),
    "field without a name": ({"": "x"}, ""),
    "unknown field below": ({"vehicle": CAR | {"colour": "red"}}, "vehicle.colour"),
    "id that is none": ({"id": "case-1"}, "id"),
}


def check_problem(answer: Any, status: int, field: str | None = None) -> dict[str, Any]:
    """The problem of an answer, in the one shape."""
    assert answer.status_code == status, answer.text
    assert answer.headers["content-type"] == "application/problem+json"
    problem: dict[str, Any] = answer.json()
    assert problem["status"] == status and problem["type"].startswith("/problems/")
    assert problem["title"] and problem["detail"] and problem["remedy"]
    if field is not None:
        assert problem.get("field", "") == field
    return problem


@pytest.mark.parametrize("kind", BAD_CASES)
def test_a_case_with_a_bad_value_is_refused_whole(floor: Floor, kind: str) -> None:
    body, field = BAD_CASES[kind]
    check_problem(floor.post("/cases", {"complaint": COMPLAINT} | body), 422, field)
    assert floor.get("/cases").json()["cases"] == []
    assert floor.get("/me").json()["revision"] == floor.get("/changes").json()["latest"]


def test_a_refusal_speaks_plain_words_and_offers_what_was_likely_meant(floor: Floor) -> None:
    body = {"complaint": COMPLAINT, "parts": [PART | {"component": "charging.batery"}]}
    problem = check_problem(floor.post("/cases", body), 422)
    assert "charging.battery" in problem["remedy"]
    problem = check_problem(floor.post("/cases", {"complaint": "x", "vehicel": {}}), 422)
    assert problem["remedy"] == "did you mean vehicle?"


@pytest.mark.parametrize(
    ("body", "status"),
    [
        (b'{"complaint": "x"', 400),
        (b'{"complaint": "\xff"}', 400),
        (b'{"complaint": "\\ud800"}', 400),
        (b'{"complaint": NaN}', 400),
        (b"", 400),
        (b"[" * 200_000, 400),
        (b"[]", 422),
        (b"null", 422),
        (b'"x"', 422),
        (b'{"complaint": "' + b"x" * 1_100_000 + b'"}', 413),
    ],
)
def test_a_body_that_is_no_case_is_refused(floor: Floor, body: bytes, status: int) -> None:
    headers = {"Content-Type": "application/json"}
    check_problem(floor.ask("POST", "/cases", content=body, headers=headers), status)


@pytest.mark.parametrize("kind", ["text/plain", "application/xml", "application/x-www-form-urlencoded", ""])
def test_json_under_another_name_is_refused(floor: Floor, kind: str) -> None:
    answer = floor.ask("POST", "/cases", content=b'{"complaint":"x"}', headers={"Content-Type": kind})
    assert "application/json" in check_problem(answer, 415, "Content-Type")["remedy"]


@pytest.mark.parametrize(
    ("query", "field"),
    [
        ("limit=0", "limit"),
        ("limit=101", "limit"),
        ("limit=many", "limit"),
        ("state=broken", "state"),
        ("since=2026-13-45", "since"),
        ("until=yesterday", "until"),
        ("cursor=%00", "cursor"),
        ("cursor=bm90IG91cnM", "cursor"),
        ("text=" + "x" * 201, "text"),
        ("make=a%00b", "make"),
    ],
)
def test_a_wrong_question_names_its_parameter(floor: Floor, query: str, field: str) -> None:
    check_problem(floor.get(f"/cases?{query}"), 422, field)


def test_several_wrong_parameters_are_all_named(floor: Floor) -> None:
    problem = check_problem(floor.get("/cases?limit=0&state=broken"), 422)
    assert {each["field"] for each in problem["errors"]} == {"limit", "state"}
    assert "open" in next(each["remedy"] for each in problem["errors"] if each["field"] == "state")


@pytest.mark.parametrize("key", ["", "x" * 201, "with blank", "ümlaut"])
def test_a_key_that_cannot_be_is_refused(floor: Floor, key: str) -> None:
    headers = {"Idempotency-Key": key.encode()}
    answer = floor.post("/cases", {"complaint": COMPLAINT}, headers=headers)
    check_problem(answer, 422, "Idempotency-Key")


@pytest.mark.parametrize(
    ("path", "body", "field"),
    [
        ("tests", TEST | {"outcome": "purple"}, "outcome"),
        ("readings", READING | {"unit": "km"}, "unit"),
        ("parts", PART | {"component": "nothing"}, "component"),
        ("close", {}, "cause"),
        ("close", {"cause": "nothing"}, "cause"),
        ("close", {"cause": "own.x", "unresolved": "declined"}, "unresolved"),
        ("close", {"unresolved": "bored"}, "unresolved"),
        ("close", {"own_cause": {"title": "x", "system": "nothing"}}, "own_cause.system"),
        ("close", {"cause": "own.x", "labour": {"repair_min": -1}}, "labour.repair_min"),
        ("close", {"cause": "own.x", "readings": [READING | {"unit": "km"}]}, "readings[0].unit"),
    ],
)
def test_a_bad_step_leaves_the_case_as_it_was(floor: Floor, path: str, body: Body, field: str) -> None:
    case = floor.open_case()
    check_problem(floor.post(f"/cases/{case['id']}/{path}", body), 422, field)
    assert floor.get(f"/cases/{case['id']}").json() == case


def test_a_thing_that_is_not_there_is_not_found(floor: Floor) -> None:
    check_problem(floor.get(f"/cases/{new_id()}"), 404)
    check_problem(floor.get("/cases/not-an-id"), 404)
    check_problem(floor.get("/trade/gossip"), 404)
    check_problem(floor.post(f"/cases/{new_id()}/tests", TEST), 404)


def test_an_error_nobody_foresaw_is_answered_without_its_innards(
    floor: Floor, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(*_: Any, **__: Any) -> None:
        raise RuntimeError("secret innards")

    monkeypatch.setattr("baylore_service.desk.cases.list_cases", fail)
    answer = floor.get("/cases")
    check_problem(answer, 500)
    assert "innards" not in answer.text
    assert "secret innards" in capsys.readouterr().out
