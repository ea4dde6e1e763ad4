"""Sharing over HTTP: seen, shared, asked for by another shop, taken back."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import CAR, COMPLAINT, Floor
from tests.service.test_routes_refusals import check_problem

ASKED = {"complaint": COMPLAINT, "vehicle": CAR}


@pytest.fixture
def agreed(floor: Floor) -> Floor:
    """Two shops that share."""
    for who in ("manager", "stranger"):
        answer = floor.ask("PATCH", "/shop", json={"shares": True}, who=who)
        assert answer.status_code == 200 and answer.json()["shares"] is True, answer.text
    return floor


def solved(floor: Floor) -> str:
    """A closed case with a telephone number in its words."""
    case = floor.open_case(complaint=f"{COMPLAINT}, call 0664 123 45 67")
    floor.close_case(case["id"])
    return str(case["id"])


def patch(floor: Floor, case_id: str, shared: bool, *, revision: int | None, who: str = "manager") -> Any:
    """Share or take back; `revision` is what was seen."""
    headers = {} if revision is None else {"If-Match": f'"{revision}"'}
    return floor.ask("PATCH", f"/cases/{case_id}/sharing", json={"shared": shared}, headers=headers, who=who)


def share(floor: Floor, case_id: str) -> dict[str, Any]:
    """The case shared as it is seen now."""
    revision = floor.get(f"/cases/{case_id}/sharing").json()["revision"]
    answer = patch(floor, case_id, True, revision=revision)
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


def found(floor: Floor) -> list[dict[str, Any]]:
    """What the other shop is told."""
    answer = floor.post("/advice/elsewhere", ASKED, who="stranger")
    assert answer.status_code == 200, answer.text
    return list(answer.json()["cases"])


def test_a_case_with_a_vin_goes_with_the_beginning_of_it(agreed: Floor) -> None:
    case = agreed.open_case(vehicle=CAR | {"vin": "1M8GDM9AXKP042788"})["id"]
    agreed.close_case(case)
    seen = agreed.get(f"/cases/{case}/sharing").json()
    assert seen["case"]["vehicle"]["vin"] == "1M8GDM9AXKP"
    assert share(agreed, case)["shared"] is not None
    (row,) = found(agreed)
    assert "042788" not in str(row)


def test_a_case_goes_to_the_other_shop_without_its_people_and_comes_back(agreed: Floor) -> None:
    case_id = solved(agreed)
    seen = agreed.get(f"/cases/{case_id}/sharing").json()
    assert seen["taken_out"] == [
        {"field": field, "kind": "phone", "was": "0664 123 45 67"} for field in ("title", "complaint")
    ]
    assert seen["shared"] is None and found(agreed) == []
    assert share(agreed, case_id)["shared"] is not None
    (row,) = found(agreed)
    assert row["case"] != case_id and "0664" not in str(row)
    assert agreed.get(f"/cases/{row['case']}", who="stranger").status_code == 404
    back = patch(agreed, case_id, False, revision=None)
    assert back.status_code == 200 and back.json()["shared"] is None
    assert found(agreed) == []


def test_sharing_is_off_until_a_manager_says_so(floor: Floor) -> None:
    case_id = solved(floor)
    assert floor.get("/shop").json()["shares"] is False
    check_problem(floor.get(f"/cases/{case_id}/sharing"), 409, "shares")
    check_problem(floor.post("/advice/elsewhere", ASKED), 409, "shares")
    check_problem(floor.ask("PATCH", "/shop", json={"shares": True}), 403)


def test_only_what_was_seen_is_shared_and_only_by_its_own_shop(agreed: Floor) -> None:
    case_id = solved(agreed)
    check_problem(patch(agreed, case_id, True, revision=None), 428, "If-Match")
    check_problem(patch(agreed, case_id, True, revision=1), 412, "If-Match")
    for answer in (
        agreed.get(f"/cases/{case_id}/sharing", who="stranger"),
        patch(agreed, case_id, True, revision=1, who="stranger"),
        patch(agreed, case_id, False, revision=None, who="stranger"),
    ):
        check_problem(answer, 404)
    check_problem(agreed.get(f"/cases/{agreed.open_case()['id']}/sharing"), 409)
