"""What the office and the bay read through the web."""

from __future__ import annotations

from tests.service.app_fixtures import CAR, Floor
from tests.service.test_routes_patterns import fan_jobs
from tests.service.test_routes_refusals import check_problem

from baylore_service.wire.shown import figure


def test_the_bay_hears_what_is_found_on_a_model_and_how_often_it_was_not_it(floor: Floor) -> None:
    fan_jobs(floor, 4)
    other = floor.open_case(vehicle=CAR)
    floor.close_case(other["id"], cause="cooling.thermostat.stuck_closed")
    (row,) = floor.get("/watch?model=tarrow%20linnet").json()["watch"]
    assert (row["title"], row["found"], row["jobs"], row["not_it"]) == ("Radiator fan motor", 4, 5, 0.2)
    assert "Confirm it before fitting" in row["says"]


def test_the_office_reads_losses_minutes_and_gaps(floor: Floor) -> None:
    fan_jobs(floor, 4)
    found = floor.get("/office", who="manager").json()
    (loss,) = found["losses"]
    assert (loss["parts"], loss["parts_money"], found["currency"]) == (4, 240.0, "EUR")
    assert len(found["gaps"]["missing"]) == 4
    assert "diagnosis minutes" in found["gaps"]["missing"][0]["lacks"]


def test_the_shelf_is_reckoned_with_the_shops_own_costs(floor: Floor) -> None:
    fan_jobs(floor, 4)
    found = floor.get("/shelf?lead_days=30&rush=100", who="manager").json()
    (row,) = found["rows"]
    assert (row["fitted"], found["lead_days"]) == (8, 30) and row["keep"] >= 1
    check_problem(floor.get("/shelf?lead_days=0", who="manager"), 422, "lead_days")


def test_the_memory_is_asked_of_closed_cases_held_out(floor: Floor) -> None:
    fan_jobs(floor, 3)
    found = floor.get("/memory?ask=3", who="manager").json()
    assert found["asked"] == 3 and 0 <= found["first"] <= found["third"] <= found["tenth"] <= 1
    assert sum(each["count"] for each in found["bins"]) == 3


def test_the_month_is_one_page_with_the_figures_of_the_lists(floor: Floor) -> None:
    fan_jobs(floor, 4)
    answer = floor.get("/report", who="manager")
    assert answer.headers["content-type"].startswith("text/html")
    assert "script" not in answer.text and "Corner Garage" in answer.text
    row = floor.get("/parts?component=cooling.fan_motor").json()["components"][0]["sources"][0]
    assert f">{figure(row['expected_cost'])}</td>" in answer.text and "4 closed cases" in answer.text


def test_what_was_typed_cannot_become_markup_on_the_page(floor: Floor) -> None:
    for _ in range(3):
        case = floor.open_case(vehicle=CAR | {"model": "<script>x</script>"})
        floor.close_case(case["id"], labour={"not_billed_min": 20})
    text = floor.get("/report", who="manager").text
    assert "<script>" not in text


def test_a_month_to_come_is_refused(floor: Floor) -> None:
    check_problem(floor.get("/report?month=2999-01", who="manager"), 422, "month")
    check_problem(floor.get("/report?month=0000-05", who="manager"), 422, "month")


def test_money_and_minutes_are_for_managers(floor: Floor) -> None:
    for path in ("/office", "/shelf", "/memory", "/report", "/alerts", "/hooks"):
        assert floor.get(path).status_code == 403
