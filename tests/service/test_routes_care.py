"""Asking after cars, asking authors for facts, and the season ahead through the web."""

from __future__ import annotations

import json
from datetime import timedelta
from typing import Any

import pytest
from tests.service.app_fixtures import CAR, Floor, new_id, now
from tests.service.test_routes_refusals import check_problem

FAN = "cooling.fan_motor.worn"
VIN = "1M8GDM9AXKP042788"


def moved_in(floor: Floor, *, days: float = 20.0, vehicle: dict[str, Any] | None = None, **more: Any) -> str:
    """A case that was closed so many days ago, moved in from a file."""
    when = (now() - timedelta(days=days)).isoformat()
    dates = {"opened": when, "closed": when, "updated": when}
    case = {"kind": "case", "id": new_id(), "complaint": "gets hot", "state": "closed", "cause": FAN}
    line = case | dates | {"vehicle": CAR | (vehicle or {})} | more
    kind = {"Content-Type": "application/x-ndjson"}
    answer = floor.ask("POST", "/import", content=json.dumps(line), headers=kind, who="manager")
    assert (answer.status_code, answer.json()["added"]) == (200, 1), answer.text
    return str(case["id"])


def heard(floor: Floor, id: str, outcome: str, **more: Any) -> Any:
    return floor.post(f"/cases/{id}/followed", {"outcome": outcome, **more})


def quarters(floor: Floor) -> list[tuple[int, int]]:
    rows = floor.get("/office", who="manager").json()["cures"]["systems"]
    return [(row["closed"], row["came_back"]) for row in rows]


def test_a_cure_that_was_heard_of_is_proved_and_leaves_the_list(floor: Floor) -> None:
    case = moved_in(floor)
    (row,) = floor.get("/followups").json()["follow_ups"]
    assert (row["case"], row["days"], row["tried"]) == (case, 20, False) and 0 < row["risk"] < 1
    answer = heard(floor, case, "cured").json()
    assert answer["verified"] and answer["followed"]["outcome"] == "cured" and answer["followed"]["by"]
    assert floor.get("/followups").json()["follow_ups"] == [] and quarters(floor) == [(1, 0)]


def test_a_car_that_came_back_opens_its_next_case_and_counts_as_a_comeback(floor: Floor) -> None:
    case = moved_in(floor)
    answer = heard(floor, case, "came back").json()
    (again,) = answer["returned_as"]
    opened = floor.get(f"/cases/{again}").json()
    assert (opened["state"], opened["comeback_of"]) == ("open", case)
    assert floor.get("/followups").json()["follow_ups"] == [] and quarters(floor) == [(1, 1)]
    assert heard(floor, case, "came back").json()["returned_as"] == [again]


def test_a_later_visit_of_the_same_car_is_linked_instead_of_opened_again(floor: Floor) -> None:
    case = moved_in(floor, vehicle={"vin": VIN})
    later = floor.open_case(vehicle=CAR | {"vin": VIN})["id"]
    assert heard(floor, case, "came back").json()["returned_as"] == [later]
    assert floor.get(f"/cases/{later}").json()["comeback_of"] == case


def test_the_case_it_came_back_as_can_be_named_but_not_an_earlier_one(floor: Floor) -> None:
    case, older = moved_in(floor), moved_in(floor, days=50.0)
    later = floor.open_case(vehicle=CAR)["id"]
    check_problem(heard(floor, case, "came back", case=older), 422, "case")
    assert heard(floor, case, "came back", case=later).json()["returned_as"] == [later]


def test_nobody_reached_keeps_the_car_on_the_list(floor: Floor) -> None:
    case = moved_in(floor)
    assert not heard(floor, case, "not reached").json()["verified"]
    (row,) = floor.get("/followups").json()["follow_ups"]
    assert row["tried"] is True


def test_what_cannot_be_heard_is_refused_with_the_remedy(floor: Floor) -> None:
    check_problem(heard(floor, floor.open_case()["id"], "cured"), 409)
    case = moved_in(floor)
    heard(floor, case, "came back")
    check_problem(heard(floor, case, "cured"), 422, "outcome")


def test_an_outcome_sent_twice_is_kept_once(floor: Floor) -> None:
    case, key = moved_in(floor), {"Idempotency-Key": "heard-1"}
    first = floor.post(f"/cases/{case}/followed", {"outcome": "came back"}, headers=key)
    again = floor.post(f"/cases/{case}/followed", {"outcome": "came back"}, headers=key)
    assert first.json() == again.json() and again.headers["idempotent-replay"] == "true"


def test_what_was_heard_travels_with_the_case(floor: Floor) -> None:
    told = {"outcome": "cured", "at": "2026-01-05T10:00:00Z", "by": "Mara"}
    case = moved_in(floor, followed=told)
    assert floor.get(f"/cases/{case}").json()["followed"] == told
    lines = [json.loads(line) for line in floor.get("/export", who="manager").text.splitlines()]
    assert [line["followed"] for line in lines if line.get("id") == case] == [told]


def asked(floor: Floor, who: str = "technician") -> list[dict[str, Any]]:
    return list(floor.get("/asks", who=who).json()["asks"])


def test_the_author_is_asked_and_answers_with_a_number(floor: Floor) -> None:
    case = floor.open_case(vehicle=CAR)["id"]
    closed = floor.close_case(case, cause=FAN)
    found = floor.post(f"/cases/{case}/asks", {"facts": ["diagnosis minutes"]}, who="manager").json()
    assert [one["fact"] for one in found["facts"]] == ["diagnosis minutes"]
    (one,) = asked(floor)
    assert one["case"]["id"] == case and one["facts"][0]["by"] and asked(floor, "manager") == []
    (missing,) = floor.get("/office", who="manager").json()["gaps"]["missing"]
    assert missing["asked"] is True and missing["author"] == closed["by"]
    tag = {"If-Match": f'"{closed["revision"]}"'}
    floor.ask("PATCH", f"/cases/{case}", json={"labour": {"diagnosis_min": 25}}, headers=tag)
    assert asked(floor) == []


def test_without_names_all_that_is_missing_is_asked_once(floor: Floor) -> None:
    case = floor.open_case(vehicle=CAR)["id"]
    floor.close_case(case, cause=FAN)
    first = floor.post(f"/cases/{case}/asks", {}, who="manager").json()
    assert len(first["facts"]) >= 2
    assert floor.post(f"/cases/{case}/asks", {}, who="manager").json() == first


def test_a_fact_nobody_knows_is_asked_no_more_until_it_is_asked_again(floor: Floor) -> None:
    case = floor.open_case(vehicle=CAR)["id"]
    floor.close_case(case, cause=FAN)
    floor.post(f"/cases/{case}/asks", {"facts": ["diagnosis minutes"]}, who="manager")
    floor.post(f"/cases/{case}/asks/unknown", {"fact": "diagnosis minutes"})
    assert asked(floor) == []
    check_problem(floor.post(f"/cases/{case}/asks/unknown", {"fact": "model"}), 422, "fact")
    floor.post(f"/cases/{case}/asks", {"facts": ["diagnosis minutes"]}, who="manager")
    assert len(asked(floor)) == 1


@pytest.mark.parametrize("fact", ["model", "colour"])
def test_a_fact_that_is_there_or_none_is_not_asked_for(floor: Floor, fact: str) -> None:
    case = floor.open_case(vehicle=CAR)["id"]
    floor.close_case(case, cause=FAN)
    assert floor.post(f"/cases/{case}/asks", {"facts": [fact]}, who="manager").status_code == 422


def test_only_managers_ask(floor: Floor) -> None:
    case = floor.open_case(vehicle=CAR)["id"]
    check_problem(floor.post(f"/cases/{case}/asks", {}), 403)


def test_the_season_ahead_names_failures_and_parts_with_the_lead_time(floor: Floor) -> None:
    part = {"component": "cooling.fan_motor", "source": "maker", "price": 80, "result": "cured"}
    for _ in range(4):
        moved_in(floor, days=300.0, parts=[part])
    found = floor.get("/season?lead_days=14", who="manager").json()
    (failure,), (row,) = found["failures"], found["stock"]
    assert (failure["cause"], failure["last"]) == (FAN, 4) and failure["parts"] == ["cooling.fan_motor"]
    assert (row["fitted"], row["price"], found["lead_days"]) == (4, 80, 14) and row["keep"] >= 1
    check_problem(floor.get("/season"), 403)


def test_the_season_ahead_stands_on_the_printed_page_with_what_to_have_ready(floor: Floor) -> None:
    part = {"component": "cooling.fan_motor", "source": "maker", "price": 80.45, "result": "cured"}
    for _ in range(4):
        moved_in(floor, days=300.0, parts=[part])
    asked = {"lead_days": 14, "rush": 300}
    found = floor.get("/season", who="manager", params=asked).json()
    text = floor.get("/report", who="manager", params=asked).text
    (failure,), (row,) = found["failures"], found["stock"]
    assert f"The season ahead, {found['starts'][:10]} to {found['ends'][:10]}" in text
    assert failure["says"] in text
    cells = (row["title"], row["keep"], row["fitted"], f"{100 * row['short']:.0f} %", row["price"])
    assert (
        "".join(f'<td class="n">{cell}</td>' for cell in cells[1:]) in text and f"<td>{cells[0]}</td>" in text
    )
