"""Closing and coming back through the web."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import PART, READING, TEST, Floor, first_cause
from tests.service.test_routes_refusals import check_problem


def test_a_case_is_closed_with_a_listed_cause(floor: Floor) -> None:
    case = floor.open_case(tests=[TEST], parts=[PART])
    body = {
        "cause": first_cause(floor.house),
        "correction": {"action": "replace", "component": "charging.battery", "text": "new battery"},
        "confirmed_by": TEST["test"],
        "readings": [READING | {"value": 12.7}],
        "labour": {"repair_min": 60, "rate_per_hour": 90},
        "other_cost": 5,
    }
    closed = floor.post(f"/cases/{case['id']}/close", body).json()
    assert (closed["state"], closed["cause"], closed["verified"]) == ("closed", body["cause"], True)
    assert closed["cause_title"] and closed["cause_system"] and closed["closed"] and closed["note"]
    assert closed["readings"][-1]["when"] == "after" and closed["labour"]["diagnosis_min"] == 5
    cost = closed["cost"]
    assert (cost["parts"], cost["other"], cost["currency"]) == (80.0, 5.0, "EUR")
    assert cost["total"] == pytest.approx(cost["parts"] + cost["labour"] + cost["other"])
    assert cost["labour"] == pytest.approx(65 / 60 * 90, abs=0.01)


def test_a_cause_in_the_shops_own_words_is_taken(floor: Floor) -> None:
    case = floor.open_case()
    body = {"own_cause": {"title": "Mouse nest in the duct", "system": "aircon"}, "correction": "cleaned"}
    closed = floor.post(f"/cases/{case['id']}/close", body).json()
    assert closed["cause"].startswith("own.") and closed["cause_title"] == "Mouse nest in the duct"
    assert closed["cause_system"] == "aircon" and closed["correction"]["text"] == "cleaned"


@pytest.mark.parametrize("reason", ["no fault found", "declined", "referred"])
def test_a_case_may_stay_unresolved_with_a_reason(floor: Floor, reason: str) -> None:
    case = floor.open_case()
    closed = floor.post(f"/cases/{case['id']}/close", {"unresolved": reason, "note": "not seen"}).json()
    assert (closed["state"], closed["unresolved_reason"], closed["cause"]) == ("unresolved", reason, None)


def test_closing_again_with_other_content_is_a_conflict(floor: Floor) -> None:
    case = floor.open_case()
    closed = floor.close_case(case["id"])
    answer = floor.post(f"/cases/{case['id']}/close", {"unresolved": "declined"})
    check_problem(answer, 409)
    assert floor.get(f"/cases/{case['id']}").json() == closed


def test_a_comeback_is_a_new_case_and_the_old_one_stops_claiming(floor: Floor) -> None:
    case = floor.open_case()
    floor.close_case(case["id"], verification="ran it ten times")
    body: dict[str, Any] = {
        "complaint": "same again",
        "vehicle": {"odometer": {"value": 142000, "unit": "km"}},
    }
    answer = floor.post(f"/cases/{case['id']}/reopen", body)
    back = answer.json()
    assert answer.status_code == 201 and answer.headers["location"] == f"/api/cases/{back['id']}"
    assert (back["state"], back["comeback_of"], back["complaint"]) == ("open", case["id"], "same again")
    assert back["vehicle"]["odometer"]["value"] == 142000 and back["vehicle"]["model"] == "Linnet"
    old = floor.get(f"/cases/{case['id']}").json()
    assert old["returned_as"] == [back["id"]] and old["verified"] is False


def test_only_a_closed_case_comes_back(floor: Floor) -> None:
    case = floor.open_case()
    check_problem(floor.post(f"/cases/{case['id']}/reopen", {}), 409)
