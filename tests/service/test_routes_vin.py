"""What a VIN says of a car: it fills what nobody typed, and only speaks up where somebody did.

The numbers are the regulation's own example (49 CFR 565.15, Table VI), whole or with signs changed.
"""

from __future__ import annotations

import pytest
from tests.service.app_fixtures import CAR, COMPLAINT, Floor
from tests.service.test_routes_cases import patch

OF_2005 = "1G4AH59H45G118341"
OF_2004 = "1G4AH59H64G118341"


def opened(floor: Floor, **vehicle: object) -> dict[str, object]:
    answer = floor.post("/cases", {"complaint": COMPLAINT, "vehicle": vehicle})
    assert answer.status_code == 201, answer.text
    found: dict[str, object] = answer.json()["vehicle"]
    return found


def test_an_empty_year_and_make_are_filled_and_marked_as_from_the_vin(floor: Floor) -> None:
    car = opened(floor, vin="1g4ah59h4 5g118341", model="Linnet")
    assert (car["year"], car["from_vin"], car["vin"]) == (2005, ["year", "make"], OF_2005)
    assert car["make"] and car["model"] == "Linnet"


def test_a_typed_year_stays_and_the_vin_only_says_another(floor: Floor) -> None:
    car = opened(floor, **CAR | {"vin": OF_2005})
    assert (car["year"], car["make"], car["from_vin"]) == (CAR["year"], CAR["make"], [])
    says = car["vin_says"]
    assert isinstance(says, dict) and says["year"] == 2005
    assert f"VIN says 2005, typed {CAR['year']}" in says["against"]
    assert any("maker" in each and CAR["make"] in each for each in says["against"])


def test_what_the_vin_filled_goes_with_it_and_what_was_typed_stays(floor: Floor) -> None:
    case = floor.post("/cases", {"complaint": COMPLAINT, "vehicle": {"vin": OF_2005}}).json()
    other = patch(floor, case, {"vehicle": {"vin": OF_2004}}).json()
    assert (other["vehicle"]["year"], other["vehicle"]["from_vin"]) == (2004, ["year", "make"])
    typed = patch(floor, other, {"vehicle": {"year": 2003}}).json()
    assert (typed["vehicle"]["year"], typed["vehicle"]["from_vin"]) == (2003, ["make"])
    without = patch(floor, typed, {"vehicle": {"vin": None}}).json()["vehicle"]
    assert (without["year"], without["make"], without["vin_says"]) == (2003, "", None)


def test_a_car_sent_back_as_it_came_is_the_same_car(floor: Floor) -> None:
    case = floor.post("/cases", {"complaint": COMPLAINT, "vehicle": {"vin": OF_2005}}).json()
    again = patch(floor, case, {"vehicle": case["vehicle"]}).json()
    assert again["vehicle"] == case["vehicle"]


def test_a_mark_that_the_vin_does_not_bear_out_is_taken_off(floor: Floor) -> None:
    car = opened(floor, vin=OF_2005, year=2001, from_vin=["year"])
    assert (car["year"], car["from_vin"]) == (2001, ["make"])


def test_advice_says_where_each_part_of_the_car_comes_from(floor: Floor) -> None:
    floor.close_case(floor.open_case()["id"])
    told = floor.post("/advice", {"complaint": "09 tarrow linet 1.6 wont start"}).json()
    assert told["car"]["origins"] == {"year": "words", "make": "words", "model": "words", "engine": "words"}
    read = {"typed": "09 tarrow linet 1.6", "read": "2009 Tarrow Linnet 1.6", "kind": "car", "at": None}
    assert read in told["read_as"]
    by_vin = floor.post("/advice", {"complaint": COMPLAINT, "vehicle": {"year": 2004, "vin": OF_2005}}).json()
    assert by_vin["car"]["origins"] == {"year": "typed", "make": "vin"}
    assert "VIN says 2005, typed 2004" in by_vin["car"]["vehicle"]["vin_says"]["against"]


def test_engines_of_the_shops_own_cars_are_offered(floor: Floor) -> None:
    floor.open_case()
    asked = {"complaint": COMPLAINT, "vehicle": {name: CAR[name] for name in ("make", "model", "year")}}
    assert floor.post("/advice", asked).json()["car"]["engines"] == [CAR["engine"]]


@pytest.mark.parametrize(
    ("vin", "says"),
    [
        ("1G4AH59H45G11834", "16 characters"),
        ("1G4AH59HA5G118341", "character 9 is 'A'"),
        ("1G4AH59H4UG118341", "character 10 is 'U'"),
        ("1G4AH59H45G1183S1", "character 16 is 'S'"),
        ("1G4AH59H45G118O41", "character 15 is 'O'"),
    ],
)
def test_a_damaged_vin_is_refused_by_the_rule_of_its_place(floor: Floor, vin: str, says: str) -> None:
    answer = floor.post("/cases", {"complaint": COMPLAINT, "vehicle": {"vin": vin}})
    problem = answer.json()
    assert answer.status_code == 422 and says in answer.text and problem["field"] == "vehicle.vin"
    assert "leave the VIN out" in problem["remedy"]
