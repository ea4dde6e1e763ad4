"""The shop's own tests and causes over the web, and its tuning."""

from __future__ import annotations

from typing import Any
from unittest.mock import patch

import pytest
from tests.service.app_fixtures import Floor
from tests.service.test_routes_refusals import check_problem

from baylore_kb.advice import Tuning
from baylore_kb.tuning import Trial
from baylore_service.desk import tuning

WET = {"complaint": "footwell wet, carpet soaked after rain"}
JOINT = {
    "title": "Carpet joint corroded",
    "system": "body_elec",
    "symptoms": ["water_in_body"],
    "fix": "clean and seal",
    "minutes": 45,
}
PULL = {
    "title": "Pull the carpet, feel the joint",
    "system": "body_elec",
    "minutes": 6,
    "points_at": ["own.carpet_joint_corroded", "body_elec.seal.leaking"],
    "steps": ["Lift the trim"],
    "note": "left side first",
}
PULL_ID, JOINT_ID = "own.pull_the_carpet_feel_the_joint", "own.carpet_joint_corroded"


@pytest.fixture
def listed(floor: Floor) -> Floor:
    """A shop with a cause and a test of its own."""
    for path, body in (("causes", JOINT), ("tests", PULL)):
        answer = floor.post(f"/trade/{path}", body)
        assert answer.status_code == 201, answer.text
    return floor


def items(floor: Floor, name: str, **options: Any) -> dict[str, dict[str, Any]]:
    """A list by id."""
    return {each["id"]: each for each in floor.get(f"/trade/{name}", **options).json()["items"]}


def test_what_is_added_stands_in_the_lists_of_this_shop_alone(listed: Floor) -> None:
    tests, causes = items(listed, "tests"), items(listed, "causes")
    assert tests[PULL_ID]["own"] and causes[JOINT_ID]["own"] and tests[PULL_ID]["note"] == "left side first"
    assert not tests["crank_drop_neg"]["own"] and not causes["body_elec.seal.leaking"]["own"]
    assert causes[JOINT_ID]["component"] in items(listed, "components")
    assert PULL_ID not in items(listed, "tests", who="stranger")


def test_the_version_of_a_list_changes_with_it(floor: Floor) -> None:
    before = floor.get("/trade/causes")
    floor.post("/trade/causes", JOINT)
    same = floor.get("/trade/causes", headers={"If-None-Match": before.headers["etag"]})
    assert same.status_code == 200 and same.headers["etag"] != before.headers["etag"]
    again = floor.get("/trade/causes", headers={"If-None-Match": same.headers["etag"]})
    assert again.status_code == 304
    theirs = floor.get("/trade/causes", who="stranger", headers={"If-None-Match": before.headers["etag"]})
    assert theirs.status_code == 304


def test_it_takes_part_in_advice_and_in_cases_at_once(listed: Floor) -> None:
    advice = listed.post("/advice", WET).json()
    assert PULL_ID in [row["test"] for row in advice["tests"]]
    step = {"test": PULL_ID, "outcome": "found", "part": JOINT_ID, "minutes": 7}
    answer = listed.post("/advice", WET | {"tests": [step]}).json()
    assert answer["causes"][0]["cause"] == JOINT_ID
    case = listed.open_case(**WET)
    listed.post(f"/cases/{case['id']}/tests", step)
    closed = listed.close_case(case["id"], cause=JOINT_ID, confirmed_by=PULL_ID)
    assert closed["cause_title"] == JOINT["title"] and closed["cause_system"] == "body_elec"


def test_the_same_key_adds_once_and_answers_the_same(floor: Floor) -> None:
    headers = {"Idempotency-Key": "add-1"}
    first, again = (floor.post("/trade/causes", JOINT, headers=headers) for _ in range(2))
    assert again.json() == first.json() and again.headers["idempotent-replay"] == "true"
    other = floor.post("/trade/causes", JOINT | {"minutes": 50}, headers=headers)
    check_problem(other, 422, "Idempotency-Key")


@pytest.mark.parametrize(
    ("path", "body", "field"),
    [
        ("tests", PULL | {"points_at": ["body_elec.seal.leeking"]}, "points_at[0]"),
        ("tests", PULL | {"points_at": []}, "points_at"),
        ("tests", PULL | {"minutes": 0}, "minutes"),
        ("tests", PULL | {"title": " "}, "title"),
        ("tests", PULL | {"title": "Lift it\u0000"}, "title"),
        ("causes", JOINT | {"symptoms": ["wet"]}, "symptoms[0]"),
        ("causes", JOINT | {"title": "Body seal, lamp gasket or membrane leaks"}, "title"),
        ("causes", JOINT | {"confirm_test": "nothing"}, "confirm_test"),
    ],
)
def test_what_cannot_be_is_refused_by_its_field(
    floor: Floor, path: str, body: dict[str, Any], field: str
) -> None:
    if path == "tests" and field != "points_at[0]":
        floor.post("/trade/causes", JOINT)
    problem = check_problem(floor.post(f"/trade/{path}", body), 422, field)
    assert problem["remedy"]


def test_the_same_words_twice_are_there_already(listed: Floor) -> None:
    check_problem(listed.post("/trade/causes", JOINT), 409, "title")


def test_minutes_of_a_listed_test_are_the_shops(floor: Floor) -> None:
    changed = floor.ask("PATCH", "/trade/tests/crank_drop_neg", json={"minutes": 4}).json()
    assert changed["setup_min"] + changed["do_min"] == 4 and changed["listed_min"] > 4 and not changed["own"]
    back = floor.ask("PATCH", "/trade/tests/crank_drop_neg", json={"minutes": None}).json()
    assert back["setup_min"] + back["do_min"] == changed["listed_min"]
    refused = floor.ask("PATCH", "/trade/tests/crank_drop_neg", json={"skill": 1})
    check_problem(refused, 422, "skill")


def test_an_own_entry_can_be_changed_by_anyone_and_deleted_by_a_manager(listed: Floor) -> None:
    changed = listed.ask("PATCH", f"/trade/tests/{PULL_ID}", json={"minutes": 9, "steps": []})
    assert changed.json()["do_min"] == 9 and changed.json()["steps"] == [PULL["title"]]
    check_problem(listed.ask("PATCH", f"/trade/tests/{PULL_ID}", json={"minutes": None}), 422, "minutes")
    check_problem(listed.ask("DELETE", f"/trade/tests/{PULL_ID}"), 403)
    check_problem(listed.ask("DELETE", f"/trade/causes/{JOINT_ID}", who="manager"), 409)
    for path in (f"tests/{PULL_ID}", f"causes/{JOINT_ID}"):
        assert listed.ask("DELETE", f"/trade/{path}", who="manager").status_code == 204
        check_problem(listed.ask("DELETE", f"/trade/{path}", who="manager"), 404)
    assert PULL_ID not in items(listed, "tests") and JOINT_ID not in items(listed, "causes")


def test_another_shops_entries_are_not_there(listed: Floor) -> None:
    for path in (f"tests/{PULL_ID}", f"causes/{JOINT_ID}"):
        check_problem(listed.ask("DELETE", f"/trade/{path}", who="stranger"), 404)
        check_problem(listed.ask("PATCH", f"/trade/{path}", who="stranger", json={"title": "x y"}), 404)


def test_phones_are_told_of_the_change(listed: Floor) -> None:
    told = listed.get("/changes").json()["changes"]
    assert [(each["kind"], each["id"]) for each in told][-2:] == [("trade", JOINT_ID), ("trade", PULL_ID)]


def test_the_manager_reads_how_the_tuning_did(floor: Floor) -> None:
    assert floor.get("/tuning", who="manager").json() == {
        "version": None,
        "when": None,
        "revision": None,
        "cases": 0,
        "asked": 0,
        "shipped_loss": None,
        "tuned_loss": None,
        "adopted": False,
    }
    found = Trial(Tuning(temperature=1.2), 60, 2.0, 1.9, adopted=True)
    shop = floor.get("/shop").json()["id"]
    with patch("baylore_service.desk.tuning.trial", return_value=found):
        tuning.tune(floor.house, shop)
    said = floor.get("/tuning", who="manager").json()
    assert (said["version"], said["shipped_loss"], said["tuned_loss"], said["adopted"]) == (1, 2.0, 1.9, True)
    check_problem(floor.get("/tuning"), 403)
