"""Evidence that was written down wrong is corrected through the web."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import READING, TEST, Floor, new_id
from tests.service.test_routes_refusals import check_problem
from tests.service.test_routes_tried import CAUSE, REPAIR

DROP = {"test": "crank_drop_neg", "outcome": "ok", "minutes": 4}
NOTHING = "one click and nothing, will not crank, lamps bright"


def corrected(floor: Floor, case: dict[str, Any], kind: str, change: dict[str, Any]) -> Any:
    """The answer to correcting the first step of a kind."""
    return floor.ask("PATCH", f"/cases/{case['id']}/{kind}/{case[kind][0]['id']}", json=change, who="manager")


def test_a_test_is_corrected_and_keeps_who_and_when(floor: Floor) -> None:
    case = floor.open_case(tests=[DROP])
    change = {"outcome": "high", "minutes": 6, "note": "0.9 V", "fault_present": False}
    answer = corrected(floor, case, "tests", change)
    assert answer.status_code == 200 and answer.headers["etag"] == f'"{answer.json()["revision"]}"'
    assert answer.json()["tests"] == [case["tests"][0] | change]
    emptied = corrected(floor, case, "tests", {"minutes": None, "note": None}).json()["tests"][0]
    assert (emptied["minutes"], emptied["note"], emptied["outcome"]) == (None, "", "high")


def test_a_reading_is_corrected_and_keeps_who_and_when(floor: Floor) -> None:
    case = floor.open_case(readings=[READING])
    [condition] = case["readings"][0]["conditions"]
    change = {"value": 12150, "unit": "mV", "point": "jump posts", "conditions": {condition: 5.0}}
    kept = corrected(floor, case, "readings", change).json()["readings"]
    assert kept == [case["readings"][0] | change]
    emptied = corrected(floor, case, "readings", {"point": None, "conditions": None}).json()["readings"][0]
    assert (emptied["point"], emptied["conditions"], emptied["value"]) == ("", {}, 12150)


def test_what_a_repair_did_is_corrected(floor: Floor) -> None:
    case = floor.open_case(repairs=[REPAIR])
    kept = corrected(floor, case, "repairs", {"result": "partly", "note": "cranks when cold"}).json()
    assert kept["repairs"] == [case["repairs"][0] | {"result": "partly", "note": "cranks when cold"}]


def test_the_next_advice_goes_by_the_corrected_outcome(floor: Floor) -> None:
    case = floor.open_case(complaint=NOTHING, tests=[DROP])
    chance = {"ok": 0.0, "high": 0.0}
    for outcome in chance:
        corrected(floor, case, "tests", {"outcome": outcome})
        causes = floor.get(f"/cases/{case['id']}/advice").json()["causes"]
        chance[outcome] = next((row["probability"] for row in causes if row["cause"] == CAUSE), 0.0)
    assert chance["high"] > chance["ok"]


def test_the_next_verdict_goes_by_the_corrected_value(floor: Floor) -> None:
    case = floor.open_case(readings=[READING])
    corrected(floor, case, "readings", {"value": 12.7})
    verdicts = floor.get(f"/cases/{case['id']}/advice").json()["readings"]
    assert (verdicts[0]["value"], verdicts[0]["good"]) == (12.7, True)


@pytest.mark.parametrize(
    ("kind", "change", "field"),
    [
        ("tests", {"outcome": "splendid"}, "outcome"),
        ("tests", {"outcome": None}, "outcome"),
        ("tests", {"part": "gremlins"}, "part"),
        ("tests", {"test": "fuse_voltage_drop"}, "test"),
        ("tests", {"minutes": -1}, "minutes"),
        ("readings", {"unit": "km"}, "unit"),
        ("readings", {"value": "12"}, "value"),
        ("readings", {"quantity": "crank_v"}, "quantity"),
        ("readings", {"conditions": {"crank_a": {"value": 5, "unit": "V"}}}, "conditions.crank_a.unit"),
        ("repairs", {"result": None}, "result"),
    ],
)
def test_a_correction_that_cannot_be_is_refused(
    floor: Floor, kind: str, change: dict[str, Any], field: str
) -> None:
    case = floor.open_case(readings=[READING], tests=[TEST], repairs=[REPAIR])
    check_problem(corrected(floor, case, kind, change), 422, field)
    assert floor.get(f"/cases/{case['id']}").json() == case


def test_a_correction_may_name_the_version_and_comes_once(floor: Floor) -> None:
    case = floor.open_case(tests=[DROP])
    path = f"/cases/{case['id']}/tests/{case['tests'][0]['id']}"
    check_problem(floor.ask("PATCH", path, json={"outcome": "high"}, headers={"If-Match": '"999999"'}), 412)
    sent = {"json": {"outcome": "high"}, "headers": {"Idempotency-Key": "once"}}
    first, again = (floor.ask("PATCH", path, **sent) for _ in range(2))
    assert again.headers["idempotent-replay"] == "true" and first.json() == again.json()


def test_only_a_step_of_that_kind_is_found(floor: Floor) -> None:
    case = floor.open_case(tests=[DROP], readings=[READING])
    wrong = f"/cases/{case['id']}/tests/{case['readings'][0]['id']}"
    check_problem(floor.ask("PATCH", wrong, json={"minutes": 3}), 404)
    check_problem(floor.ask("PATCH", f"/cases/{case['id']}/repairs/{new_id()}", json={"minutes": 3}), 404)
    right = f"/cases/{case['id']}/tests/{case['tests'][0]['id']}"
    check_problem(floor.ask("PATCH", right, json={"minutes": 3}, who="stranger"), 404)
