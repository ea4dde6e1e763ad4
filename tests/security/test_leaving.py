"""A member leaves: the name comes off everywhere, the cases stay."""

from __future__ import annotations

from typing import Any

from sqlalchemy import text
from tests.service.app_fixtures import PNG, TEST, Floor
from tests.service.test_routes_people import enrol
from tests.service.test_routes_refusals import check_problem

from baylore_service.store.tables import metadata

ODD = "Ivo Quarrelbrook"


def named(floor: Floor) -> str:
    """The technician's id, with a name that stands nowhere by chance."""
    ivo = str(floor.get("/me").json()["member"]["id"])
    floor.ask("PATCH", f"/members/{ivo}", json={"name": ODD}, who="manager")
    return ivo


def worked(floor: Floor) -> dict[str, Any]:
    """A closed case with the name on all its steps, in its texts and in kept answers."""
    case = floor.open_case(complaint=f"no start, {ODD.lower()}'s car park; the quarrelbrooks know it")
    path = f"/cases/{case['id']}"
    floor.post(f"{path}/tests", TEST | {"note": f"told {ODD}"}, headers={"Idempotency-Key": "kept"})
    floor.ask(
        "POST",
        f"{path}/photos?note=by%20{ODD.replace(' ', '%20')}",
        content=PNG,
        headers={"Content-Type": "image/png"},
    )
    floor.post("/trade/words", {"word": "bimble", "means": "rust"})
    floor.close_case(case["id"], correction=f"cable renewed; {ODD} and IQ, see also IQuest")
    return dict(floor.get(path).json())


def leave(floor: Floor, member: str, **body: Any) -> Any:
    """The manager lets a member go."""
    return floor.post(f"/members/{member}/leave", body, who="manager")


def everything(floor: Floor) -> str:
    """Every row of the store and everything a manager can read, as text."""
    with floor.house.store.read() as work:
        rows = [
            str(row)
            for table in metadata.tables
            for row in work.connection.execute(text(f"SELECT * FROM {table}"))
        ]
    paths = (
        "/export",
        "/changes?after=0",
        "/members",
        "/devices",
        "/trail",
        "/trade/words",
        "/cases",
        "/report",
    )
    return "\n".join(rows + [floor.get(path, who="manager").text for path in paths])


def test_the_name_is_nowhere_and_the_cases_are_still_there(floor: Floor) -> None:
    ivo, case = named(floor), worked(floor)
    code = enrol(floor, ODD)["code"]
    assert everything(floor).count(ODD) > 10
    left = leave(floor, ivo, also=["IQ"]).json()
    assert left["member"] | {"id": ""} == {
        **left["member"],
        "id": "",
        "name": "former member",
        "active": False,
    }
    assert ODD.casefold() not in everything(floor).casefold()
    after = floor.get(f"/cases/{case['id']}", who="manager").json()
    assert (after["cause"], after["closed"], len(after["tests"])) == (case["cause"], case["closed"], 1)
    assert after["complaint"] == "no start, former member's car park; the quarrelbrooks know it"
    assert "former member and former member, see also IQuest" in str(after["correction"])
    assert {step["by"] for step in (*after["tests"], *after["photos"])} == {"former member"}
    assert floor.get("/me").status_code == 401
    assert floor.client.post("/api/devices", json={"code": code, "name": "x"}).status_code == 403


def test_other_phones_hear_of_it_by_the_feed(floor: Floor) -> None:
    ivo, case = named(floor), worked(floor)
    seen = floor.get("/me", who="manager").json()["revision"]
    leave(floor, ivo)
    news = floor.get(f"/changes?after={seen}", who="manager").json()["changes"]
    (changed,) = [each["case"] for each in news if each["id"] == case["id"] and each["case"]]
    assert ODD not in str(changed) and changed["updated"] == case["updated"]


def test_a_preview_tells_the_texts_and_changes_nothing(floor: Floor) -> None:
    ivo, case = named(floor), worked(floor)
    before = floor.get("/export", who="manager").text
    told = leave(floor, ivo, preview=True).json()
    assert told["cases"] == 1 and told["member"]["name"] == ODD
    assert {each["field"] for each in told["found"]} >= {"complaint_text", "note", "text"}
    assert all(each["case"] == case["id"] and ODD.lower() in each["text"].lower() for each in told["found"])
    assert floor.get("/export", who="manager").text == before and floor.get("/me").status_code == 200


def test_what_was_written_can_be_left_as_it_is(floor: Floor) -> None:
    ivo, case = named(floor), worked(floor)
    leave(floor, ivo, in_texts=False)
    after = floor.get(f"/cases/{case['id']}", who="manager").json()
    assert after["complaint"] == case["complaint"] and after["tests"][0]["by"] == "former member"


def test_a_name_that_another_member_has_too_stays(floor: Floor) -> None:
    ivo, case = named(floor), worked(floor)
    floor.post("/members", {"name": ODD, "role": "technician"}, who="manager")
    leave(floor, ivo)
    after = floor.get(f"/cases/{case['id']}", who="manager").json()
    assert after["tests"][0]["by"] == ODD and after["complaint"] == case["complaint"]


def test_the_last_manager_cannot_leave_and_only_managers_let_go(floor: Floor) -> None:
    mara = floor.get("/me", who="manager").json()["member"]["id"]
    check_problem(leave(floor, mara), 409)
    check_problem(floor.post(f"/members/{mara}/leave", {}), 403)
    check_problem(leave(floor, "nobody"), 404)


def test_the_act_is_told_without_the_name(floor: Floor) -> None:
    ivo = named(floor)
    leave(floor, ivo)
    acts = floor.get("/trail", who="manager").json()["acts"]
    assert acts[0]["done"] == "left" and acts[0]["entity"] == ivo and ODD not in str(acts)
