"""Cases that were written twice, over HTTP."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import Floor, new_id
from tests.service.test_routes_refusals import check_problem

CAR = {"year": 2011, "make": "Tarrow", "model": "Linnet", "odometer": {"value": 141000, "unit": "km"}}
WORDS = "one click and nothing turns, lamps stay bright"


@pytest.fixture
def pair(floor: Floor) -> tuple[str, str]:
    """The ids of two records of one visit."""
    first = floor.open_case(complaint=WORDS, vehicle=CAR)
    second = floor.open_case(
        complaint="one clik, nothing, lamps bright", vehicle=CAR, note="battery was fine"
    )
    return first["id"], second["id"]


def test_the_answer_to_closing_carries_the_other_record_and_is_kept_for_its_key(
    floor: Floor, pair: Any
) -> None:
    body = {"cause": "starting.starter.worn"}
    headers = {"Idempotency-Key": new_id()}
    first = floor.post(f"/cases/{pair[0]}/close", body, headers=headers)
    (alike,) = first.json()["alike"]
    assert (alike["case"], alike["remains"], alike["takes"]) == (pair[1], pair[0], ["the note"])
    assert alike["why"][:2] == ["same car", "same day"] and alike["alike"] > 0.6
    again = floor.post(f"/cases/{pair[0]}/close", body, headers=headers)
    assert again.headers["idempotent-replay"] == "true" and again.json() == first.json()
    assert floor.get(f"/cases/{pair[0]}/alike").json()["alike"] == first.json()["alike"]


def test_a_joined_record_answers_where_it_went(floor: Floor, pair: Any) -> None:
    first, second = pair
    joined = floor.post(f"/cases/{first}/join", {"other": second}).json()
    assert joined["joined"] == [second] and joined["note"].endswith("battery was fine")
    assert floor.get(f"/cases/{second}").json()["joined_into"] == first
    refused = floor.post(f"/cases/{second}/close", {"cause": "starting.starter.worn"})
    problem = check_problem(refused, 409)
    assert problem["type"].endswith("joined-elsewhere") and first in problem["remedy"]
    assert refused.headers["location"] == f"/api/cases/{first}"


def test_phones_hear_of_both_records_when_they_are_joined(floor: Floor, pair: Any) -> None:
    before = floor.get("/changes").json()["latest"]
    floor.post(f"/cases/{pair[0]}/join", {"other": pair[1]})
    told = {each["id"]: each["case"] for each in floor.get(f"/changes?after={before}").json()["changes"]}
    assert told[pair[1]]["joined_into"] == pair[0] and told[pair[0]]["joined"] == [pair[1]]


def test_a_join_is_refused_when_the_case_was_changed_meanwhile(floor: Floor, pair: Any) -> None:
    tag = f'"{floor.get(f"/cases/{pair[0]}").json()["revision"]}"'
    floor.post(f"/cases/{pair[0]}/tests", {"test": "crank_drop_neg", "outcome": "high"})
    stale = floor.post(f"/cases/{pair[0]}/join", {"other": pair[1]}, headers={"If-Match": tag})
    check_problem(stale, 412)
    assert floor.get(f"/cases/{pair[1]}").json()["joined_into"] is None


def test_advice_counts_two_joined_records_once(floor: Floor, pair: Any) -> None:
    for each in pair:
        floor.post(f"/cases/{each}/close", {"cause": "starting.starter.worn"})
    ask = {"complaint": WORDS, "vehicle": CAR}
    assert {each["case"] for each in floor.post("/advice", ask).json()["cases"]} == set(pair)
    floor.post(f"/cases/{pair[0]}/join", {"other": pair[1]})
    assert [each["case"] for each in floor.post("/advice", ask).json()["cases"]] == [pair[0]]
    floor.post(f"/cases/{pair[1]}/split", {"other": pair[0]})
    assert {each["case"] for each in floor.post("/advice", ask).json()["cases"]} == set(pair)


def test_two_visits_kept_apart_are_not_offered_at_the_next_closing(floor: Floor, pair: Any) -> None:
    floor.post(f"/cases/{pair[1]}/apart", {"other": pair[0]})
    closed = floor.post(f"/cases/{pair[0]}/close", {"cause": "starting.starter.worn"}).json()
    assert closed["state"] == "closed" and "alike" not in closed
