"""What advice says besides causes and tests, through the web."""

from __future__ import annotations

from typing import Any

from tests.service.app_fixtures import CAR, Floor

STARTER = "starting.starter.worn"
CLICK: dict[str, Any] = {"complaint": "one click, no crank", "vehicle": CAR, "symptoms": ["no_crank_click"]}


def past_jobs(floor: Floor) -> None:
    """Three starters, each after a good ground drop."""
    for parts in (100, 160, 220):
        case = floor.open_case(
            **CLICK,
            tests=[{"test": "crank_drop_neg", "outcome": "ok", "minutes": 4}],
            parts=[{"component": "starting.starter", "source": "maker", "price": parts, "result": "cured"}],
        )
        floor.close_case(case["id"], cause=STARTER, labour={"diagnosis_min": 30, "repair_min": 30})


def test_a_call_gets_three_questions_with_answers_to_tap(floor: Floor) -> None:
    asked = floor.post("/advice", {"complaint": "won't start sometimes"}).json()["questions"]
    assert len(asked) == 3
    assert all(each["question"] and each["why"] and len(each["answers"]) >= 2 for each in asked)
    tapped = {
        name for each in asked for one in each["answers"] for name in ("symptom", "condition") if one[name]
    }
    assert tapped == {"symptom", "condition"}


def test_every_answer_can_be_sent_back_and_is_not_asked_again(floor: Floor) -> None:
    question = {"complaint": "won't start sometimes"}
    for each in floor.post("/advice", question).json()["questions"]:
        for one in each["answers"]:
            told = {"symptoms": [one["symptom"]] if one["symptom"] else []}
            told |= {"shows_when": [one["condition"]] if one["condition"] else []}
            answer = floor.post("/advice", question | told)
            assert answer.status_code == 200, answer.text
            again = [asked["question"] for asked in answer.json()["questions"]]
            assert each["question"] not in again or not any(told.values())


def test_the_shops_jobs_say_what_was_ruled_out_and_what_it_cost(floor: Floor) -> None:
    past_jobs(floor)
    advice = floor.post("/advice", CLICK).json()
    row = next(each for each in advice["ruled_out"] if each["test"] == "crank_drop_neg")
    assert (row["times"], row["minutes"]) == (3, 4.0) and row["causes"]
    rate = floor.get("/shop").json()["rate_per_hour"]
    price = advice["price"]
    assert (price["cases"], price["low"], price["high"]) == (3, 100 + rate, 220 + rate)
    assert price["middle"] == 160 + rate and price["currency"] == "EUR"


def test_a_changed_rate_changes_the_price(floor: Floor) -> None:
    past_jobs(floor)
    before = floor.post("/advice", CLICK).json()["price"]
    rate = floor.get("/shop").json()["rate_per_hour"]
    floor.ask("PATCH", "/shop", json={"rate_per_hour": rate + 10}, who="manager")
    after = floor.post("/advice", CLICK).json()["price"]
    assert after["middle"] == before["middle"] + 10


def test_a_new_shop_has_no_price_and_nothing_ruled_out(floor: Floor) -> None:
    advice = floor.post("/advice", CLICK).json()
    assert (advice["price"], advice["ruled_out"], advice["conflicts"], advice["dropped"]) == (
        None,
        [],
        [],
        [],
    )


def test_causes_say_what_moved_them_and_outcomes_what_comes_then(floor: Floor) -> None:
    past_jobs(floor)
    advice = floor.post("/advice", CLICK | {"tests": [{"test": "crank_v_test", "outcome": "high"}]}).json()
    first = advice["causes"][0]
    assert first["from_cases"] and all(each["by"] and each["factor"] > 0 for each in first["moved"])
    then = [each for test in advice["tests"] for outcome in test["outcomes"] for each in outcome["then"]]
    assert then and all(each["title"] and 0 <= each["probability"] <= 1 for each in then)


def test_a_famous_cause_that_fell_is_told_with_what_did_it(floor: Floor) -> None:
    done = [{"test": "crank_v_test", "outcome": "high"}, {"test": "crank_drop_neg", "outcome": "high"}]
    dropped = floor.post("/advice", CLICK | {"tests": done}).json()["dropped"]
    assert STARTER in [each["cause"] for each in dropped]
    assert all(each["after"] < each["before"] and each["by"] for each in dropped)
