"""What the manager reads through the web: recurring failures and parts."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import CAR, Floor
from tests.service.test_routes_refusals import check_problem

CAUSE = "cooling.fan_motor.worn"


def part(source: str, price: float, result: str) -> dict[str, Any]:
    """A fan motor that was tried."""
    return {"component": "cooling.fan_motor", "source": source, "price": price, "result": result}


def fan_jobs(floor: Floor, count: int = 3) -> list[str]:
    """Closed jobs of the same failure: a copy did not cure, the maker's part did."""
    parts = [part("aftermarket", 60, "no change"), part("maker", 140, "cured")]
    found = [floor.open_case(vehicle=CAR, parts=parts)["id"] for _ in range(count)]
    for case_id in found:
        floor.close_case(case_id, cause=CAUSE, labour={"repair_min": 60})
    return found


def test_a_failure_that_comes_back_is_a_row_with_its_cases(floor: Floor) -> None:
    cases = fan_jobs(floor)
    found = floor.get("/recurrences?by=model,system", who="manager").json()
    row = found["rows"][0]
    assert found["by"] == ["model", "system"] and found["cases"] == 3 and found["notes"]
    assert row["key"] == {"model": "Tarrow Linnet", "system": "cooling"} and row["observed"] == 3
    assert sorted(row["cases"]) == sorted(cases) and row["median_minutes"] == 60
    assert row["signal"] in ("strong", "signal", "none") and row["title"]


def test_recurrences_can_be_asked_for_a_time(floor: Floor) -> None:
    fan_jobs(floor)
    past = floor.get("/recurrences?until=2020-01-01", who="manager").json()
    assert past["rows"] == [] and past["until"] == "2020-01-01T00:00:00Z"


@pytest.mark.parametrize("by", ["weather", "model,weather", "", "model,,system"])
def test_counting_by_something_else_is_refused(floor: Floor, by: str) -> None:
    check_problem(floor.get(f"/recurrences?by={by}", who="manager"), 422, "by")


def test_parts_show_what_cured_by_source_and_the_cheapest_way(floor: Floor) -> None:
    fan_jobs(floor)
    found = floor.get("/parts?component=cooling.fan_motor").json()
    (component,) = found["components"]
    sources = {row["source"]: row for row in component["sources"]}
    assert (found["currency"], component["title"]) == ("EUR", "Radiator fan motor")
    assert (sources["aftermarket"]["no_change"], sources["maker"]["cured"]) == (3, 3)
    assert sources["maker"]["success"] > sources["aftermarket"]["success"]
    assert all(0 <= row["low"] <= row["success"] <= row["high"] <= 1 for row in sources.values())
    assert component["cheapest_way"] == component["way"]["first"] == "maker" and component["says"]
    assert (component["safety"], sources["maker"]["life_km"]) == (False, None)


def test_a_safety_part_is_shown_without_a_cheapest_way(floor: Floor) -> None:
    floor.open_case(vehicle=CAR, parts=[part("used", 20, "cured") | {"component": "abs_stab.sensor"}])
    (component,) = floor.get("/parts?component=abs_stab.sensor").json()["components"]
    assert (component["safety"], component["cheapest_way"], component["way"]) == (True, None, None)
    assert "fit the maker's" in component["says"]


def test_parts_of_an_unknown_component_are_refused(floor: Floor) -> None:
    check_problem(floor.get("/parts?component=cooling.nothing"), 422, "component")
    assert floor.get("/parts?component=cooling.fan_motor").json()["components"] == []


def test_another_shops_parts_are_not_counted(floor: Floor) -> None:
    fan_jobs(floor)
    assert floor.get("/parts", who="stranger").json()["components"] == []
    assert floor.get("/recurrences", who="stranger").json()["rows"] == []
