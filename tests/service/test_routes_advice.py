"""Questions through the web: advice and judged readings."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import CAR, COMPLAINT, READING, TEST, Floor, new_id
from tests.service.test_routes_refusals import BAD_CASES, check_problem

ASKED: dict[str, Any] = {
    "complaint": COMPLAINT,
    "vehicle": CAR,
    "codes": ["B1342"],
    "symptoms": [],
    "readings": [READING],
    "tests": [TEST],
    "limit": 10,
}


def test_advice_sums_to_one_and_says_what_to_do_next(floor: Floor) -> None:
    answer = floor.post("/advice", ASKED)
    advice = answer.json()
    assert answer.status_code == 200, answer.text
    shares = [cause["probability"] for cause in advice["causes"]] + [advice["unlisted"]]
    assert sum(shares) == pytest.approx(1, abs=0.001)
    assert advice["next"]["do"] in ("test", "replace", "ask", "refer") and advice["next"]["why"]
    assert all(cause["title"] and cause["from"] for cause in advice["causes"])
    assert all(test["title"] and test["outcomes"] for test in advice["tests"])


def test_advice_finds_the_closed_case_and_says_why(floor: Floor) -> None:
    case = floor.open_case()
    closed = floor.close_case(case["id"])
    advice = floor.post("/advice", ASKED).json()
    row = advice["cases"][0]
    assert (row["case"], row["cause"], row["state"]) == (case["id"], closed["cause"], "closed")
    assert row["vehicle"] == "2011 Tarrow Linnet" and row["correction"] == "replaced it"
    assert 0 < row["chance"] <= 1 and row["why"]["words"] and row["why"]["vehicle"]
    assert advice["revision"] >= closed["revision"]


def test_nothing_of_a_question_is_kept(floor: Floor) -> None:
    before = floor.get("/me").json()["revision"]
    floor.post("/advice", ASKED)
    assert floor.get("/me").json()["revision"] == before
    assert floor.get("/cases").json()["cases"] == []


def test_a_stored_case_is_advised_without_itself(floor: Floor) -> None:
    case, other = floor.open_case(), floor.open_case()
    floor.close_case(case["id"])
    floor.close_case(other["id"])
    advice = floor.get(f"/cases/{case['id']}/advice?limit=5").json()
    assert [row["case"] for row in advice["cases"]] == [other["id"]]


def test_another_shops_cases_are_not_in_the_advice(floor: Floor) -> None:
    floor.close_case(floor.open_case()["id"])
    assert floor.post("/advice", ASKED, who="stranger").json()["cases"] == []


def test_no_more_cases_come_than_were_asked_for(floor: Floor) -> None:
    for _ in range(3):
        floor.close_case(floor.open_case()["id"])
    assert len(floor.post("/advice", ASKED | {"limit": 2}).json()["cases"]) == 2
    check_problem(floor.post("/advice", ASKED | {"limit": 51}), 422, "limit")


def test_symptoms_heard_in_the_words_come_with_their_titles(floor: Floor) -> None:
    heard = floor.post("/advice", {"complaint": "engine cranks but does not start"}).json()["symptoms"]
    assert "cranks_no_start" in [each["symptom"] for each in heard]
    assert all(each["title"] and 0 < each["chance"] <= 1 for each in heard)


@pytest.mark.parametrize(
    "kind", [kind for kind in BAD_CASES if "opened" not in kind and kind != "bell in a note"]
)
def test_a_question_with_a_bad_value_is_refused(floor: Floor, kind: str) -> None:
    body, field = BAD_CASES[kind]
    check_problem(floor.post("/advice", ASKED | body), 422, field)


def test_a_member_gets_advice_for_their_own_skill(floor: Floor) -> None:
    advice = floor.post("/advice", ASKED).json()
    assert all(test["allowed"] == (test["skill"] <= 3) for test in advice["tests"])


def test_a_reading_is_judged_with_its_range_reason_and_source(floor: Floor) -> None:
    rows = floor.post("/readings/judge", {"readings": [READING, READING | {"value": 12.6}]}).json()[
        "readings"
    ]
    assert [row["verdict"] for row in rows] == ["low", "ok"] and [row["good"] for row in rows] == [
        False,
        True,
    ]
    assert rows[0]["expected"]["unit"] and rows[0]["why"] and rows[0]["source"]
    assert (rows[0]["value"], rows[0]["unit"], rows[0]["point"]) == (12.1, "V", "battery posts")


def test_one_reading_by_itself_is_judged_too(floor: Floor) -> None:
    one = floor.post("/readings/judge", READING).json()
    assert one == floor.post("/readings/judge", {"readings": [READING]}).json()


def test_units_are_one_number(floor: Floor) -> None:
    millivolts = READING | {"value": 12100, "unit": "mV"}
    rows = floor.post("/readings/judge", {"readings": [READING, millivolts]}).json()["readings"]
    assert rows[0]["verdict"] == rows[1]["verdict"]


def test_a_slipped_decimal_is_questioned(floor: Floor) -> None:
    row = floor.post("/readings/judge", READING | {"value": 126}).json()["readings"][0]
    assert row["verdict"] == "implausible"


def test_bad_readings_are_refused_by_place(floor: Floor) -> None:
    check_problem(floor.post("/readings/judge", READING | {"unit": "km"}), 422)
    body = {"readings": [READING, READING | {"quantity": "nothing"}]}
    check_problem(floor.post("/readings/judge", body), 422, "readings[1].quantity")
    check_problem(floor.post("/readings/judge", {}), 422, "readings")
    check_problem(floor.get(f"/cases/{new_id()}/advice"), 404)
