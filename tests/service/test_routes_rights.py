"""Tools a shop lacks, rights its members hold, and what advice makes of them."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import Floor
from tests.service.test_routes_refusals import check_problem

COLD = {"complaint": "air con blows warm, compressor does not come in", "symptoms": ["no_cold_air"]}
RULE = {"right": "refrigerant certificate", "needed_for": ["aircon"]}


def change_shop(floor: Floor, **fields: Any) -> dict[str, Any]:
    """The shop after a manager's change."""
    answer = floor.ask("PATCH", "/shop", json=fields, who="manager")
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


def member(floor: Floor, name: str = "Ivo") -> dict[str, Any]:
    """A member of the shop."""
    found = floor.get("/members", who="manager").json()["members"]
    return dict(next(each for each in found if each["name"] == name))


def grant(floor: Floor, *rights: str) -> dict[str, Any]:
    """The technician after being given these rights."""
    path = f"/members/{member(floor)['id']}"
    answer = floor.ask("PATCH", path, json={"rights": list(rights)}, who="manager")
    assert answer.status_code == 200, answer.text
    return dict(answer.json())


def notes(floor: Floor, body: dict[str, Any] = COLD, **options: Any) -> dict[str, str]:
    """What keeps the asking member from each proposed test of the aircon that is not allowed."""
    tests = floor.post("/advice", body | {"limit": 50}, **options).json()["tests"]
    return {row["test"]: row["note"] for row in tests if not row["allowed"]}


def test_a_new_shop_lacks_nothing_and_asks_for_no_right(floor: Floor) -> None:
    shop, me = floor.get("/shop").json(), floor.get("/me").json()
    assert (shop["lacks"], shop["rights"], me["member"]["rights"]) == ([], [], [])
    assert me["shop"] == shop


def test_a_shop_names_its_lacking_tools_and_needed_rights(floor: Floor) -> None:
    rules = [RULE, {"right": "high voltage", "needed_for": ["hv", "own.lift_the_pack"]}]
    shop = change_shop(floor, lacks=["scope", " SCOPE ", "smoke machine"], rights=rules)
    assert (shop["lacks"], shop["rights"]) == (["scope", "smoke machine"], rules)
    assert floor.get("/shop").json() == shop == change_shop(floor, rate_per_hour=shop["rate_per_hour"])
    assert change_shop(floor, lacks=[], rights=[])["rights"] == []


def test_a_right_named_twice_is_one(floor: Floor) -> None:
    again = {"right": "Refrigerant  Certificate", "needed_for": ["ac_weigh_charge", "aircon"]}
    rights = change_shop(floor, rights=[RULE, again])["rights"]
    assert rights == [RULE | {"needed_for": ["aircon", "ac_weigh_charge"]}]


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"lacks": ["scoop"]}, "lacks[0]"),
        ({"lacks": ["scope", ""]}, "lacks[1]"),
        ({"lacks": ["scope"] * 101}, "lacks"),
        ({"rights": [{"right": "x", "needed_for": ["air con"]}]}, "rights[0].needed_for[0]"),
        ({"rights": [{"right": "x", "needed_for": []}]}, "rights[0].needed_for"),
        ({"rights": [{"right": " ", "needed_for": ["aircon"]}]}, "rights[0]"),
        ({"rights": [RULE | {"until": 2030}]}, "rights[0].until"),
    ],
)
def test_tools_and_rights_that_cannot_be_are_refused(floor: Floor, body: dict[str, Any], field: str) -> None:
    before = floor.get("/shop").json()
    problem = check_problem(floor.ask("PATCH", "/shop", json=body, who="manager"), 422)
    assert problem["field"].startswith(field)
    assert floor.get("/shop").json() == before


def test_a_misspelt_tool_is_answered_with_the_nearest(floor: Floor) -> None:
    answer = floor.ask("PATCH", "/shop", json={"lacks": ["smoke machin"]}, who="manager")
    assert "smoke machine" in answer.json()["remedy"]


def test_members_hold_rights(floor: Floor) -> None:
    body = {"name": "Ada", "role": "technician", "rights": ["High  Voltage", "high voltage"]}
    assert floor.post("/members", body, who="manager").json()["rights"] == ["High Voltage"]
    assert grant(floor, "refrigerant certificate")["rights"] == ["refrigerant certificate"]
    assert floor.get("/me").json()["member"]["rights"] == ["refrigerant certificate"]
    assert member(floor)["rights"] == ["refrigerant certificate"] and grant(floor)["rights"] == []


def test_a_technician_gives_nobody_a_right(floor: Floor) -> None:
    mine = floor.get("/me").json()["member"]["id"]
    check_problem(floor.ask("PATCH", f"/members/{mine}", json={"rights": ["all"]}), 403)


def test_who_does_not_hold_the_right_is_told_so(floor: Floor) -> None:
    change_shop(floor, rights=[RULE])
    without = notes(floor)
    assert any("refrigerant certificate" in note for note in without.values())
    grant(floor, "Refrigerant Certificate")
    assert not any("refrigerant certificate" in note for note in notes(floor).values())
    assert any("refrigerant certificate" in note for note in notes(floor, who="manager").values())


def test_rights_are_the_members_own_and_never_said_by_the_phone(floor: Floor) -> None:
    change_shop(floor, rights=[RULE])
    check_problem(floor.post("/advice", COLD | {"rights": ["refrigerant certificate"]}), 422, "rights")


def test_advice_for_a_stored_case_goes_by_the_asking_members_rights(floor: Floor) -> None:
    change_shop(floor, rights=[RULE])
    case = floor.open_case(**COLD)
    grant(floor, "refrigerant certificate")
    for who, barred in (("technician", False), ("manager", True)):
        tests = floor.get(f"/cases/{case['id']}/advice?limit=50", who=who).json()["tests"]
        assert any("certificate" in row["note"] for row in tests) is barred


def test_a_test_with_a_tool_the_shop_lacks_is_not_offered_as_if_it_had_it(floor: Floor) -> None:
    assert not any("gauge set" in note for note in notes(floor).values())
    change_shop(floor, lacks=["gauge set"])
    assert any("gauge set" in note for note in notes(floor).values())


@pytest.mark.parametrize(
    ("method", "path", "body"),
    [
        ("POST", "/members", {"name": "Ada", "role": "technician"}),
        ("PATCH", "/shop", {"rate_per_hour": 120.0}),
        ("PATCH", "/members/{ivo}", {"skill": 4}),
    ],
)
def test_a_write_of_the_office_comes_once(floor: Floor, method: str, path: str, body: dict[str, Any]) -> None:
    path = path.format(ivo=member(floor)["id"])
    sent = {"who": "manager", "headers": {"Idempotency-Key": "office-1"}}
    first, again = (floor.ask(method, path, json=body, **sent) for _ in range(2))
    assert first.status_code == again.status_code and first.json() == again.json()
    assert "idempotent-replay" not in first.headers and again.headers["idempotent-replay"] == "true"
    other = floor.ask(method, path, json={**body, next(iter(body)): "Bea"}, **sent)
    check_problem(other, 422, "Idempotency-Key" if method == "POST" else None)


def test_a_member_sent_twice_is_one_member(floor: Floor) -> None:
    body = {"name": "Ada", "role": "technician"}
    for _ in range(2):
        floor.post("/members", body, who="manager", headers={"Idempotency-Key": "ada"})
    names = [each["name"] for each in floor.get("/members", who="manager").json()["members"]]
    assert names.count("Ada") == 1
