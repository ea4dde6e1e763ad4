"""The shop, its members and devices through the web."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import Floor
from tests.service.test_routes_refusals import check_problem


def enrol(floor: Floor, name: str = "Ivo") -> dict[str, Any]:
    """A sign-in link for a member."""
    members = floor.get("/members", who="manager").json()["members"]
    member = next(each for each in members if each["name"] == name)
    answer = floor.post("/enrolments", {"member": member["id"]}, who="manager")
    assert answer.status_code == 201, answer.text
    return dict(answer.json())


def join(floor: Floor, code: str, name: str = "New phone") -> Any:
    """A device that trades a code for its token."""
    return floor.client.post("/api/devices", json={"code": code, "name": name})


def test_a_manager_adds_and_changes_members(floor: Floor) -> None:
    added = floor.post("/members", {"name": " Ada ", "role": "technician"}, who="manager")
    ada = added.json()
    assert added.status_code == 201
    assert (ada["name"], ada["role"], ada["skill"], ada["active"]) == ("Ada", "technician", 3, True)
    body = {"skill": 4, "role": "manager"}
    changed = floor.ask("PATCH", f"/members/{ada['id']}", json=body, who="manager").json()
    assert changed == ada | body
    names = [each["name"] for each in floor.get("/members", who="manager").json()["members"]]
    assert sorted(names) == ["Ada", "Ivo", "Mara"]


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"name": "", "role": "technician"}, "name"),
        ({"name": "x" * 81, "role": "technician"}, "name"),
        ({"name": "A\x00", "role": "technician"}, "name"),
        ({"name": "Ada"}, "role"),
        ({"name": "Ada", "role": "boss"}, "role"),
        ({"name": "Ada", "role": "technician", "skill": 5}, "skill"),
        ({"name": "Ada", "role": "technician", "phone": "1"}, "phone"),
    ],
)
def test_a_member_that_cannot_be_is_refused(floor: Floor, body: dict[str, Any], field: str) -> None:
    check_problem(floor.post("/members", body, who="manager"), 422, field)
    assert len(floor.get("/members", who="manager").json()["members"]) == 2


def test_another_shops_member_is_not_found(floor: Floor) -> None:
    mine = floor.get("/members", who="manager").json()["members"][0]["id"]
    check_problem(floor.ask("PATCH", f"/members/{mine}", json={"skill": 1}, who="stranger"), 404)
    check_problem(floor.post("/enrolments", {"member": mine}, who="stranger"), 404)


def test_the_last_manager_stays(floor: Floor) -> None:
    mara = floor.get("/me", who="manager").json()["member"]["id"]
    check_problem(floor.ask("PATCH", f"/members/{mara}", json={"role": "technician"}, who="manager"), 409)


def test_a_link_signs_one_device_in_once(floor: Floor) -> None:
    made = enrol(floor)
    assert made["link"].endswith(f"/#/join/{made['code']}") and made["link"].startswith("http")
    assert made["qr"].startswith("<svg") and "style" not in made["qr"] and made["expires"]
    joined = join(floor, made["code"])
    token = joined.json()["token"]
    assert joined.status_code == 201 and joined.json()["member"]["name"] == "Ivo"
    me = floor.client.get("/api/me", headers={"Authorization": f"Bearer {token}"}).json()
    assert me["device"]["name"] == "New phone"
    check_problem(join(floor, made["code"]), 403)


def test_a_used_and_a_wrong_code_look_the_same(floor: Floor) -> None:
    made = enrol(floor)
    join(floor, made["code"])
    used, wrong = join(floor, made["code"]).json(), join(floor, "A" * len(made["code"])).json()
    assert used == wrong


@pytest.mark.parametrize("code", ["", "short", "with blank 123", "x" * 201])
def test_a_code_that_cannot_be_is_refused(floor: Floor, code: str) -> None:
    check_problem(join(floor, code), 422, "code")


def test_a_revoked_device_is_out(floor: Floor) -> None:
    token = join(floor, enrol(floor)["code"]).json()["token"]
    mine = floor.client.get("/api/devices", headers={"Authorization": f"Bearer {token}"}).json()["devices"]
    lost = next(each for each in mine if each["this"])
    assert floor.ask("DELETE", f"/devices/{lost['id']}").status_code == 204
    answer = floor.client.get("/api/me", headers={"Authorization": f"Bearer {token}"})
    check_problem(answer, 401)


def test_a_technician_sees_and_revokes_only_their_own_devices(floor: Floor) -> None:
    all_devices = floor.get("/devices", who="manager").json()["devices"]
    own = floor.get("/devices").json()["devices"]
    assert {each["member"] for each in all_devices} == {"Ivo", "Mara"}
    assert [(each["member"], each["this"]) for each in own] == [("Ivo", True)]
    maras = next(each["id"] for each in all_devices if each["member"] == "Mara")
    check_problem(floor.ask("DELETE", f"/devices/{maras}"), 404)
    assert floor.get("/me", who="manager").status_code == 200


def test_a_manager_changes_the_shop(floor: Floor) -> None:
    body = {"currency": "CHF", "unit_system": "us", "rate_per_hour": 120, "time_zone": "Europe/Zurich"}
    changed = floor.ask("PATCH", "/shop", json=body, who="manager").json()
    assert {name: changed[name] for name in body} == body and changed["name"] == "Corner Garage"
    assert floor.get("/shop").json() == changed


@pytest.mark.parametrize(
    "body",
    [
        {"currency": "euro"},
        {"unit_system": "imperial"},
        {"rate_per_hour": 0},
        {"time_zone": "Mars/Olympus"},
        {"name": None},
        {"id": "x"},
    ],
)
def test_a_shop_that_cannot_be_is_refused(floor: Floor, body: dict[str, Any]) -> None:
    before = floor.get("/shop").json()
    check_problem(floor.ask("PATCH", "/shop", json=body, who="manager"), 422, next(iter(body)))
    assert floor.get("/shop").json() == before
