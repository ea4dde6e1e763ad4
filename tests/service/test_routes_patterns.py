"""What the manager reads through the web: recurring failures and parts."""

from __future__ import annotations

import csv
import io
import json
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


def test_a_row_can_be_asked_for_month_by_month_with_its_sentence(floor: Floor) -> None:
    fan_jobs(floor)
    found = floor.get("/recurrences/months?model=Tarrow%20Linnet&system=cooling", who="manager").json()
    assert sum(month["observed"] for month in found["months"]) == found["row"]["observed"] == 3
    assert "seen 3 times" in found["says"] and "Too few cases or months for a trend" in found["says"]


def test_a_row_that_is_not_named_whole_or_not_there_is_refused(floor: Floor) -> None:
    fan_jobs(floor)
    check_problem(floor.get("/recurrences/months?model=Tarrow%20Linnet", who="manager"), 422, "system")
    nowhere = "/recurrences/months?model=Tarrow%20Tern&system=cooling"
    check_problem(floor.get(nowhere, who="manager"), 422, "model")


def test_only_the_rows_asked_for_come_and_expectations_stay(floor: Floor) -> None:
    fan_jobs(floor)
    other = floor.open_case(vehicle=CAR | {"model": "Tern"})
    floor.close_case(other["id"], cause="charging.battery.weak")
    whole = floor.get("/recurrences?least=1", who="manager").json()
    some = floor.get("/recurrences?least=1&system=charging", who="manager").json()
    assert (whole["pairs"], some["pairs"]) == (2, 1)
    assert some["rows"][0] in whole["rows"]
    assert len(floor.get("/recurrences?least=1&limit=1", who="manager").json()["rows"]) == 1


def test_a_table_holds_the_figures_of_the_list(floor: Floor) -> None:
    fan_jobs(floor)
    row = floor.get("/recurrences", who="manager").json()["rows"][0]
    sheet = floor.get("/recurrences/table", who="manager")
    assert sheet.headers["content-type"].startswith("text/csv")
    (cells,) = csv.DictReader(io.StringIO(sheet.text))
    assert (int(cells["observed"]), float(cells["expected"])) == (row["observed"], row["expected"])
    lines = floor.get("/recurrences/table?form=jsonl", who="manager").text.splitlines()
    assert json.loads(lines[0])["ratio"] == row["ratio"]


def test_neutral_visits_are_kept_replaced_and_give_a_rate(floor: Floor) -> None:
    fan_jobs(floor)
    counted = {"month": "2026-03", "make": "Tarrow", "model": "Linnet", "count": 30}
    floor.post("/visits", counted, who="manager")
    kept = floor.post("/visits", counted | {"count": 60}, who="manager").json()["visits"]
    assert kept == [counted | {"count": 60}] == floor.get("/visits", who="manager").json()["visits"]
    row = floor.get("/recurrences", who="manager").json()["rows"][0]
    assert (row["per_visits"]["visits"], row["per_visits"]["per_100"]) == (60, 5.0)
    assert floor.post("/visits", counted | {"count": 0}, who="manager").json()["visits"] == []


def test_neutral_visits_of_a_month_to_come_are_refused(floor: Floor) -> None:
    late = {"month": "2999-01", "model": "Linnet", "count": 3}
    check_problem(floor.post("/visits", late, who="manager"), 422, "month")
    check_problem(floor.post("/visits", late | {"month": "2026-13"}, who="manager"), 422, "month")


def test_a_life_that_cannot_be_told_says_so(floor: Floor) -> None:
    fan_jobs(floor, 5)
    asked = "/recurrences/life?model=tarrow%20linnet&component=cooling.fan_motor"
    found = floor.get(asked, who="manager").json()
    assert found["steps"] == [] and found["fit"] is None and "too few" in found["says"]
    assert found["quartiles"] == [141000.0] * 3


def test_counts_follow_a_case_that_is_deleted_or_changed(floor: Floor) -> None:
    first, *_ = fan_jobs(floor)
    assert floor.get("/recurrences", who="manager").json()["rows"][0]["observed"] == 3
    assert floor.ask("DELETE", f"/cases/{first}", who="manager", headers={"If-Match": "*"}).status_code < 300
    assert floor.get("/recurrences", who="manager").json()["rows"][0]["observed"] == 2


@pytest.mark.parametrize("query", ["by=model,system", "by=make,component&make=tarrow", "by=season,cause"])
def test_list_table_and_lines_show_the_same_figures_under_the_same_question(floor: Floor, query: str) -> None:
    fan_jobs(floor, 4)
    rows = floor.get(f"/recurrences?{query}", who="manager").json()["rows"]
    table = floor.get(f"/recurrences/table?{query}", who="manager").text
    lines = floor.get(f"/recurrences/table?{query}&form=jsonl", who="manager").text.splitlines()
    wanted = [(row["title"], row["observed"], row["expected"], row["ratio"]) for row in rows]
    names = ("title", "observed", "expected", "ratio")
    assert wanted and [tuple(json.loads(line)[name] for name in names) for line in lines] == wanted
    cells = [tuple("" if each is None else str(each) for each in row) for row in wanted]
    assert [tuple(row[name] for name in names) for row in csv.DictReader(io.StringIO(table))] == cells
