"""Cases through the web: opened, read, listed, changed, deleted."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import CAR, COMPLAINT, PART, READING, TEST, Floor, new_id
from tests.service.test_routes_refusals import check_problem


def patch(floor: Floor, case: dict[str, Any], body: dict[str, Any], **headers: str) -> Any:
    """A change made from the revision in hand."""
    tag = {"If-Match": f'"{case["revision"]}"'} | headers
    return floor.ask("PATCH", f"/cases/{case['id']}", json=body, headers=tag)


def test_a_case_is_opened_with_all_that_is_known(floor: Floor) -> None:
    body = {
        "id": new_id(),
        "complaint": f"  {COMPLAINT}\n",
        "vehicle": CAR | {"traits": ["petrol"]},
        "codes": ["b 1342", {"code": "P0420", "state": "stored"}],
        "readings": [READING],
        "tests": [TEST],
        "parts": [PART],
        "comes_and_goes": True,
        "opened": "2026-03-11T09:20:00Z",
    }
    answer = floor.post("/cases", body)
    case = answer.json()
    assert answer.status_code == 201 and answer.headers["location"] == f"/api/cases/{body['id']}"
    assert answer.headers["etag"] == f'"{case["revision"]}"'
    assert (case["id"], case["complaint"], case["state"]) == (body["id"], COMPLAINT, "open")
    assert case["codes"] == ["B1342", "P0420"] and case["opened"] == "2026-03-11T09:20:00Z"
    told_nothing = {"transmission": "", "vin": None, "from_vin": [], "vin_says": None}
    assert case["vehicle"] == told_nothing | CAR | {"traits": ["petrol"]}
    assert case["readings"][0]["value"] == 12.1 and case["readings"][0]["by"] == "Ivo"
    assert case["tests"][0]["outcome"] == "ok" and case["parts"][0]["price"] == 80.0
    assert floor.get(f"/cases/{case['id']}").json() == case


def test_a_case_needs_only_a_complaint(floor: Floor) -> None:
    case = floor.post("/cases", {"complaint": "no crank"}).json()
    assert case["vehicle"]["year"] is None and case["closed"] is None and case["by"] == "Ivo"


def test_a_case_the_client_has_is_not_sent_again(floor: Floor) -> None:
    case = floor.open_case()
    again = floor.get(f"/cases/{case['id']}", headers={"If-None-Match": f'"{case["revision"]}"'})
    assert (again.status_code, again.content) == (304, b"")
    weak = floor.get(f"/cases/{case['id']}", headers={"If-None-Match": f'"0", W/"{case["revision"]}"'})
    assert weak.status_code == 304
    assert floor.get(f"/cases/{case['id']}", headers={"If-None-Match": '"0"'}).status_code == 200


def test_a_patch_changes_what_it_names_and_null_empties(floor: Floor) -> None:
    case = floor.open_case(codes=["B1342"], note="first look")
    body = {"vehicle": {"model": "Linnet Estate", "odometer": None}, "codes": None, "title": "Washer"}
    answer = patch(floor, case, body)
    changed = answer.json()
    assert answer.status_code == 200 and answer.headers["etag"] == f'"{changed["revision"]}"'
    assert changed["vehicle"]["model"] == "Linnet Estate" and changed["vehicle"]["odometer"] is None
    assert changed["vehicle"]["make"] == "Tarrow" and changed["vehicle"]["year"] == 2011
    assert (changed["codes"], changed["title"], changed["note"]) == ([], "Washer", "first look")
    assert changed["revision"] > case["revision"]


def test_a_patch_is_taken_as_merge_patch_too(floor: Floor) -> None:
    case = floor.open_case()
    kind = {"Content-Type": "application/merge-patch+json"}
    assert patch(floor, case, {"title": "Washer"}, **kind).json()["title"] == "Washer"


def test_a_patch_mends_the_ending_of_a_closed_case(floor: Floor) -> None:
    case = floor.close_case(floor.open_case()["id"])
    cause = list(floor.house.trade.causes)[1]
    body = {"labour": {"repair_min": 30}, "correction": "cleaned the plug", "cause": cause}
    changed = patch(floor, case, body).json()
    assert changed["labour"]["repair_min"] == 30 and changed["cause"] == cause
    assert changed["correction"] == {"action": "", "component": None, "text": "cleaned the plug"}


def test_a_change_must_say_what_it_was_made_from(floor: Floor) -> None:
    case = floor.open_case()
    check_problem(floor.ask("PATCH", f"/cases/{case['id']}", json={"title": "x"}), 428, "If-Match")
    check_problem(floor.ask("DELETE", f"/cases/{case['id']}", who="manager"), 428, "If-Match")


@pytest.mark.parametrize("tag", ['"1000000"', '"other"', 'W/"1000000"'])
def test_a_change_made_from_an_old_version_is_refused_with_the_new_tag(floor: Floor, tag: str) -> None:
    case = floor.open_case()
    answer = floor.ask("PATCH", f"/cases/{case['id']}", json={"title": "x"}, headers={"If-Match": tag})
    check_problem(answer, 412, "If-Match")
    assert answer.headers["etag"] == f'"{case["revision"]}"'


def test_any_version_may_be_changed_with_a_star(floor: Floor) -> None:
    case = floor.open_case()
    answer = floor.ask("PATCH", f"/cases/{case['id']}", json={"title": "x"}, headers={"If-Match": "*"})
    assert answer.json()["title"] == "x"


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"complaint": None}, "complaint"),
        ({"complaint": "  "}, "complaint"),
        ({"vehicle": {"year": 2090}}, "vehicle.year"),
        ({"vehicle": {"colour": "red"}}, "vehicle.colour"),
        ({"codes": ["Z9"]}, "codes[0]"),
        ({"cause": "nothing"}, "cause"),
        ({"state": "closed"}, "state"),
        ({"correction": {"component": "nothing"}}, "correction.component"),
    ],
)
def test_a_bad_patch_changes_nothing(floor: Floor, body: dict[str, Any], field: str) -> None:
    case = floor.open_case()
    check_problem(patch(floor, case, body), 422, field)
    assert floor.get(f"/cases/{case['id']}").json() == case


def test_a_manager_deletes_a_case(floor: Floor) -> None:
    case = floor.open_case()
    tag = {"If-Match": f'"{case["revision"]}"'}
    assert floor.ask("DELETE", f"/cases/{case['id']}", headers=tag, who="manager").status_code == 204
    check_problem(floor.get(f"/cases/{case['id']}"), 404)


def test_lists_page_through_forty_five_cases_by_link(floor: Floor) -> None:
    made = [floor.open_case(complaint=f"noise {n}")["id"] for n in range(45)]
    seen: list[str] = []
    sizes, path = [], "/cases?limit=20&make=Tarrow"
    while path:
        answer = floor.get(path)
        found = [case["id"] for case in answer.json()["cases"]]
        sizes.append(len(found))
        seen += found
        path = answer.links.get("next", {}).get("url", "").removeprefix("/api")
        assert bool(path) == (answer.json()["next"] is not None)
    assert sizes == [20, 20, 5]
    assert sorted(seen) == sorted(made) and len(set(seen)) == 45


def test_a_list_is_newest_first_and_brief(floor: Floor) -> None:
    old = floor.open_case(opened="2020-01-01T00:00:00Z")
    new = floor.open_case()
    found = floor.get("/cases").json()
    assert [case["id"] for case in found["cases"]] == [new["id"], old["id"]]
    assert found["next"] is None and "readings" not in found["cases"][0]


@pytest.mark.parametrize(
    ("query", "count"),
    [
        ("state=open", 1),
        ("state=closed", 1),
        ("state=unresolved", 0),
        ("make=ondrey", 1),
        ("model=Linnet", 1),
        ("text=washer", 1),
        ("since=2026-01-01", 1),
        ("until=2026-01-01", 1),
        ("since=2019-01-01&until=2019-12-31", 0),
    ],
)
def test_a_list_can_be_narrowed(floor: Floor, query: str, count: int) -> None:
    floor.open_case(opened="2020-01-01T00:00:00Z")
    other = floor.open_case(complaint="no crank", vehicle={"make": "Ondrey", "model": "Sarn"})
    floor.close_case(other["id"])
    assert len(floor.get(f"/cases?{query}").json()["cases"]) == count
