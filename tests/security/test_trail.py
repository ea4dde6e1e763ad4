"""Who changed what is kept with the change, and the manager reads it."""

from __future__ import annotations

from typing import Any

from tests.service.app_fixtures import CAR, Floor
from tests.service.house_fixtures import Clock
from tests.service.test_routes_people import enrol, join
from tests.service.test_routes_refusals import check_problem

from baylore_service.desk import trail
from baylore_service.desk.house import House
from baylore_service.desk.tidying import tidy
from baylore_service.store.records import Actor, CaseFile


def told(floor: Floor, **wanted: str) -> list[dict[str, Any]]:
    """The trail as the manager reads it, of these kinds."""
    acts = floor.get("/trail?limit=500", who="manager").json()["acts"]
    return [act for act in acts if all(act[name] == value for name, value in wanted.items())]


def test_every_change_is_told_with_who_and_from_which_phone(floor: Floor) -> None:
    me = floor.get("/me").json()
    case = floor.open_case()
    floor.close_case(case["id"])
    acts = told(floor, kind="case")
    assert [act["entity"] for act in acts] == [case["id"]] * 2
    assert {(act["member"], act["name"], act["device"]) for act in acts} == {
        (me["member"]["id"], "Ivo", me["device"]["id"])
    }
    assert acts[0]["seq"] > acts[1]["seq"] and acts[0]["at"] >= acts[1]["at"]


def test_a_manager_sees_what_was_changed_of_whom_and_no_more(floor: Floor) -> None:
    ivo = floor.get("/me").json()["member"]["id"]
    floor.ask("PATCH", f"/members/{ivo}", json={"name": "Somebody Else", "skill": 4}, who="manager")
    (act,) = told(floor, kind="member", entity=ivo, name="Mara")
    assert act["fields"] == "name, skill" and act["done"] == "changed"
    assert "Somebody" not in str({name: value for name, value in act.items() if name != "name"})


def test_phones_addresses_and_the_whole_memory_are_told_too(floor: Floor) -> None:
    joined = join(floor, enrol(floor)["code"]).json()["device"]["id"]
    floor.ask("DELETE", f"/devices/{joined}", who="manager")
    hook = floor.post("/hooks", {"url": "https://office.example/x"}, who="manager").json()["id"]
    floor.ask("DELETE", f"/hooks/{hook}", who="manager")
    floor.get("/export", who="manager")
    floor.post("/visits", {"month": "2026-01", "make": "A", "model": "B", "count": 4}, who="manager")
    assert [act["done"] for act in told(floor, entity=joined)] == ["revoked", "signed in"]
    assert [act["done"] for act in told(floor, entity=hook)] == ["removed", "added"]
    assert [act["kind"] for act in told(floor)][:2] == ["visits", "memory"]
    assert told(floor, kind="enrolment")


def test_the_trail_pages_without_gap_and_is_for_managers(floor: Floor) -> None:
    for _ in range(5):
        floor.open_case(vehicle=CAR)
    whole, paged, before = [act["seq"] for act in told(floor)], [], ""
    while True:
        page = floor.get(f"/trail?limit=2{before}", who="manager").json()
        paged += [act["seq"] for act in page["acts"]]
        if page["next"] is None:
            break
        before = f"&before={page['next']}"
    assert paged == whole
    check_problem(floor.get("/trail"), 403)
    theirs = floor.get("/trail", who="stranger").json()["acts"]
    assert {act["name"] for act in theirs} <= {"Nils", ""} and theirs[-1]["seq"] == 1


def test_a_refused_change_leaves_no_trace_in_the_trail(floor: Floor) -> None:
    case = floor.open_case()
    before = told(floor)
    stale = {"If-Match": '"999"'}
    check_problem(floor.ask("PATCH", f"/cases/{case['id']}", json={"title": "x"}, headers=stale), 412)
    check_problem(floor.post("/members", {"name": "", "role": "technician"}, who="manager"), 422)
    assert told(floor) == before


def test_the_trail_is_forgotten_by_age(house: House, boss: Actor, opened: CaseFile, clock: Clock) -> None:
    assert trail.listed(house, boss, before=None, limit=50)
    clock.wait(days=house.settings.trail_days + 1)
    tidy(house)
    assert trail.listed(house, boss, before=None, limit=50) == ()
