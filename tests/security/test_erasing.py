"""A vehicle is erased with its cases: nothing that was written of it stays in the store."""

from __future__ import annotations

from sqlalchemy import text
from tests.service.app_fixtures import CAR, PNG, Floor

from baylore_service.store.tables import metadata

VIN, WORDS = "1M8GDM9AXKP042788", "squeaks like Wigglebottom"


def rows(floor: Floor) -> dict[str, str]:
    """Every table's rows, as text."""
    with floor.house.store.read() as work:
        return {
            name: str([tuple(row) for row in work.connection.execute(text(f"SELECT * FROM {name}"))])
            for name in metadata.tables
        }


def holding(floor: Floor, *words: str) -> set[str]:
    """The tables in which any of the words stands."""
    return {name for name, told in rows(floor).items() if any(word in told for word in words)}


def test_deleting_its_cases_leaves_no_word_of_a_vehicle_in_the_store(floor: Floor) -> None:
    floor.ask("PATCH", "/shop", json={"shares": True}, who="manager")
    key = {"Idempotency-Key": "kept"}
    body = {"complaint": WORDS, "vehicle": CAR | {"vin": VIN}}
    case = floor.post("/cases", body, headers=key).json()["id"]
    floor.ask("POST", f"/cases/{case}/photos", content=PNG, headers={"Content-Type": "image/png"})
    floor.close_case(case)
    tag = floor.get(f"/cases/{case}").headers["etag"]
    shared = floor.ask("PATCH", f"/cases/{case}/sharing", json={"shared": True}, headers={"If-Match": tag})
    assert shared.status_code == 200, shared.text
    assert holding(floor, VIN, "Wigglebottom") >= {"cases", "receipts", "shared"}
    (found,) = floor.get(f"/cases?text={VIN}").json()["cases"]
    assert (
        floor.ask("DELETE", f"/cases/{found['id']}", who="manager", headers={"If-Match": tag}).status_code
        == 204
    )
    assert holding(floor, VIN, "Wigglebottom") == set()
    assert holding(floor, case) == {"acts", "changes", "shared", "receipts"}


def test_what_a_phone_sends_again_after_that_is_not_done_again(floor: Floor) -> None:
    key = {"Idempotency-Key": "kept"}
    case = floor.post("/cases", {"complaint": WORDS}, headers=key).json()["id"]
    other = floor.post("/cases", {"complaint": WORDS}, headers={"Idempotency-Key": "other"}).json()
    tag = floor.get(f"/cases/{case}").headers["etag"]
    floor.ask("DELETE", f"/cases/{case}", who="manager", headers={"If-Match": tag})
    again = floor.post("/cases", {"complaint": WORDS}, headers=key)
    assert again.json()["id"] == case and again.json()["complaint"] == ""
    assert floor.get(f"/cases/{case}").status_code == 404
    assert floor.post("/cases", {"complaint": WORDS}, headers={"Idempotency-Key": "other"}).json() == other
