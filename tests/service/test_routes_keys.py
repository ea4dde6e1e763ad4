"""A request that is sent twice is done once."""

from __future__ import annotations

from typing import Any

import pytest
from tests.service.app_fixtures import COMPLAINT, PART, PNG, READING, TEST, Floor, first_cause
from tests.service.test_routes_refusals import check_problem

KEY = {"Idempotency-Key": "phone-1:00042"}


def test_the_same_case_sent_twice_is_opened_once(floor: Floor) -> None:
    first = floor.post("/cases", {"complaint": COMPLAINT}, headers=KEY)
    again = floor.post("/cases", {"complaint": COMPLAINT}, headers=KEY)
    assert "idempotent-replay" not in first.headers and again.headers["idempotent-replay"] == "true"
    assert again.status_code == 201 and again.json() == first.json()
    assert again.headers["location"] == first.headers["location"]
    assert again.headers["etag"] == first.headers["etag"]
    assert len(floor.get("/cases").json()["cases"]) == 1


def test_a_key_with_another_body_is_refused(floor: Floor) -> None:
    floor.post("/cases", {"complaint": COMPLAINT}, headers=KEY)
    answer = floor.post("/cases", {"complaint": "something else"}, headers=KEY)
    problem = check_problem(answer, 422, "Idempotency-Key")
    assert problem["type"].endswith("idempotency-key-reused")
    assert len(floor.get("/cases").json()["cases"]) == 1


def test_a_refused_request_may_be_mended_under_its_key(floor: Floor) -> None:
    check_problem(floor.post("/cases", {"complaint": "x", "codes": ["Z9"]}, headers=KEY), 422)
    assert floor.post("/cases", {"complaint": "x", "codes": ["P0420"]}, headers=KEY).status_code == 201


def acts(floor: Floor) -> list[tuple[str, Any]]:
    """Every act on a case that takes a key."""
    return [
        ("tests", TEST),
        ("readings", READING),
        ("parts", PART),
        ("close", {"cause": first_cause(floor.house), "correction": "replaced"}),
    ]


@pytest.mark.parametrize("at", range(4))
def test_the_same_act_sent_twice_is_done_once(floor: Floor, at: int) -> None:
    path, body = acts(floor)[at]
    case = floor.open_case()
    first = floor.post(f"/cases/{case['id']}/{path}", body, headers=KEY)
    again = floor.post(f"/cases/{case['id']}/{path}", body, headers=KEY)
    assert again.headers["idempotent-replay"] == "true" and again.json() == first.json()
    assert floor.get(f"/cases/{case['id']}").json() == first.json()


def test_a_reopening_sent_twice_makes_one_comeback(floor: Floor) -> None:
    case = floor.open_case()
    floor.close_case(case["id"])
    first = floor.post(f"/cases/{case['id']}/reopen", {}, headers=KEY)
    again = floor.post(f"/cases/{case['id']}/reopen", {}, headers=KEY)
    assert again.json() == first.json()
    assert len(floor.get("/cases").json()["cases"]) == 2


def test_a_photo_sent_twice_is_kept_once(floor: Floor) -> None:
    case = floor.open_case()
    headers = KEY | {"Content-Type": "image/png"}
    for _ in range(2):
        floor.ask("POST", f"/cases/{case['id']}/photos", content=PNG, headers=headers)
    assert len(floor.get(f"/cases/{case['id']}").json()["photos"]) == 1


def test_a_change_whose_answer_was_lost_may_be_sent_again_with_the_new_tag(floor: Floor) -> None:
    case = floor.open_case()
    path = f"/cases/{case['id']}"
    old = KEY | {"If-Match": f'"{case["revision"]}"'}
    first = floor.ask("PATCH", path, json={"title": "Washer"}, headers=old)
    now = KEY | {"If-Match": first.headers["etag"]}
    again = floor.ask("PATCH", path, json={"title": "Washer"}, headers=now)
    assert again.json() == first.json() and again.headers["idempotent-replay"] == "true"


def test_a_key_of_another_shop_is_its_own(floor: Floor) -> None:
    floor.post("/cases", {"complaint": COMPLAINT}, headers=KEY)
    theirs = floor.post("/cases", {"complaint": "theirs"}, headers=KEY, who="stranger")
    assert theirs.status_code == 201 and theirs.json()["complaint"] == "theirs"
