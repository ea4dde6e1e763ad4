"""Steps through the web: tests, readings, parts and photos, added and taken back."""

from __future__ import annotations

import pytest
from tests.service.app_fixtures import PART, PNG, READING, TEST, Floor, new_id
from tests.service.test_routes_refusals import check_problem

STEPS = [("tests", TEST), ("readings", READING), ("parts", PART)]


@pytest.mark.parametrize(("kind", "body"), STEPS)
def test_a_step_answers_the_whole_case(floor: Floor, kind: str, body: dict[str, object]) -> None:
    case = floor.open_case()
    step_id = new_id()
    answer = floor.post(f"/cases/{case['id']}/{kind}", body | {"id": step_id})
    changed = answer.json()
    assert answer.status_code == 201 and answer.headers["etag"] == f'"{changed["revision"]}"'
    assert [(step["id"], step["by"]) for step in changed[kind]] == [(step_id, "Ivo")]
    assert changed["revision"] > case["revision"]


@pytest.mark.parametrize(("kind", "body"), STEPS)
def test_a_step_can_be_taken_back(floor: Floor, kind: str, body: dict[str, object]) -> None:
    case = floor.open_case()
    changed = floor.post(f"/cases/{case['id']}/{kind}", body).json()
    answer = floor.ask("DELETE", f"/cases/{case['id']}/steps/{changed[kind][0]['id']}")
    assert answer.status_code == 200 and answer.json()[kind] == []
    check_problem(floor.ask("DELETE", f"/cases/{case['id']}/steps/{changed[kind][0]['id']}"), 404)


def test_a_step_may_name_the_version_it_was_made_from(floor: Floor) -> None:
    case = floor.open_case()
    path = f"/cases/{case['id']}/tests"
    check_problem(floor.post(path, TEST, headers={"If-Match": '"999999"'}), 412)
    assert floor.post(path, TEST, headers={"If-Match": f'"{case["revision"]}"'}).status_code == 201


def test_other_names_of_the_lists_are_taken(floor: Floor) -> None:
    case = floor.open_case(readings=[READING], tests=[TEST])
    assert case["readings"][0]["quantity"] == "batt_rest"
    assert case["tests"][0]["test"] in floor.house.trade.tests


def test_a_fault_that_was_away_while_testing_is_kept(floor: Floor) -> None:
    case = floor.open_case(tests=[TEST | {"fault_present": False, "note": "dry day"}])
    assert case["tests"][0]["fault_present"] is False and case["tests"][0]["note"] == "dry day"


def test_an_implausible_reading_is_kept_and_questioned_only(floor: Floor) -> None:
    case = floor.open_case(readings=[READING | {"value": 126}])
    assert case["readings"][0]["value"] == 126


def test_what_a_part_did_is_said_later(floor: Floor) -> None:
    case = floor.open_case(parts=[PART])
    path = f"/cases/{case['id']}/parts/{case['parts'][0]['id']}"
    changed = floor.ask("PATCH", path, json={"result": "partly", "charged": False, "note": "lamp out"}).json()
    part = changed["parts"][0]
    assert (part["result"], part["charged"], part["note"], part["price"]) == (
        "partly",
        False,
        "lamp out",
        80.0,
    )
    cleared = floor.ask("PATCH", path, json={"result": None, "price": None}).json()["parts"][0]
    assert (cleared["result"], cleared["price"], cleared["note"]) == (None, None, "lamp out")


@pytest.mark.parametrize(
    "body", [{"result": "splendid"}, {"price": -1}, {"charged": None}, {"source": "used"}]
)
def test_a_bad_word_about_a_part_is_refused(floor: Floor, body: dict[str, object]) -> None:
    case = floor.open_case(parts=[PART])
    path = f"/cases/{case['id']}/parts/{case['parts'][0]['id']}"
    check_problem(floor.ask("PATCH", path, json=body), 422, next(iter(body)))
    assert floor.get(f"/cases/{case['id']}").json() == case


def add_photo(floor: Floor, case_id: str, data: bytes = PNG, *, kind: str = "image/png", query: str = ""):  # type: ignore[no-untyped-def]
    """A photo sent as raw bytes."""
    return floor.ask("POST", f"/cases/{case_id}/photos{query}", content=data, headers={"Content-Type": kind})


def test_a_photo_comes_back_as_it_was_sent(floor: Floor) -> None:
    case = floor.open_case(tests=[TEST])
    step = case["tests"][0]["id"]
    answer = add_photo(floor, case["id"], query=f"?step={step}&note=third%20pin%20green")
    photo = answer.json()["photos"][0]
    assert answer.status_code == 201
    assert (photo["type"], photo["bytes"], photo["note"], photo["step"]) == (
        "image/png",
        len(PNG),
        "third pin green",
        step,
    )
    got = floor.get(f"/cases/{case['id']}/photos/{photo['id']}")
    assert (got.content, got.headers["content-type"]) == (PNG, "image/png")
    assert "immutable" in got.headers["cache-control"]
    known = {"If-None-Match": got.headers["etag"]}
    assert floor.get(f"/cases/{case['id']}/photos/{photo['id']}", headers=known).status_code == 304


def test_a_photo_that_is_none_is_refused(floor: Floor) -> None:
    case = floor.open_case()
    check_problem(add_photo(floor, case["id"], b"GIF89a", kind="image/gif"), 415)
    check_problem(add_photo(floor, case["id"], b"<svg/>", kind="image/png"), 415)
    check_problem(add_photo(floor, case["id"], PNG, kind="image/jpeg"), 415)
    check_problem(add_photo(floor, case["id"], b""), 400)
    check_problem(add_photo(floor, case["id"], PNG + b"x" * 8_000_000), 413)
    check_problem(add_photo(floor, case["id"], query=f"?step={new_id()}"), 404)
    assert floor.get(f"/cases/{case['id']}").json()["photos"] == []


def test_another_shop_sees_no_photo(floor: Floor) -> None:
    case = floor.open_case()
    photo = add_photo(floor, case["id"]).json()["photos"][0]
    check_problem(floor.get(f"/cases/{case['id']}/photos/{photo['id']}", who="stranger"), 404)
