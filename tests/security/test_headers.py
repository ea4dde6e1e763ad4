"""Headers of every answer, and why no other site can act in a member's name."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.service.app_fixtures import PNG, Floor

PERSONAL = ("/me", "/cases", "/members", "/devices", "/changes", "/export", "/report", "/hooks", "/alerts")


@pytest.mark.parametrize("path", ["/", "/api/me", "/api/cases", "/api/nothing", "/health/live"])
def test_no_answer_lets_a_page_run_foreign_or_inline_code_or_be_framed(floor: Floor, path: str) -> None:
    headers = floor.client.get(path, headers=floor.as_("manager")).headers
    policy = dict(each.split(" ", 1) for each in headers["content-security-policy"].split("; "))
    assert policy["default-src"] == "'self'" and policy["frame-ancestors"] == "'none'"
    assert policy["object-src"] == policy["base-uri"] == "'none'" and policy["form-action"] == "'self'"
    assert not {"script-src", "style-src", "script-src-elem"} & policy.keys()
    assert headers["x-frame-options"] == "DENY" and headers["x-content-type-options"] == "nosniff"
    assert headers["cross-origin-opener-policy"] == headers["cross-origin-resource-policy"] == "same-origin"
    assert headers["referrer-policy"] == "no-referrer"
    assert {"camera=(self)", "microphone=(self)", "geolocation=()"} <= set(
        headers["permissions-policy"].split(", ")
    )


@pytest.mark.parametrize("path", PERSONAL)
def test_personal_answers_are_kept_nowhere(floor: Floor, path: str) -> None:
    assert floor.get(path, who="manager").headers["cache-control"] == "no-store"


def test_a_case_and_what_phones_reckon_with_are_kept_by_nobody_between(floor: Floor) -> None:
    case = floor.open_case()
    for path in (f"/cases/{case['id']}", "/trade/tests", "/reasoning/shop"):
        assert floor.get(path).headers["cache-control"] == "private, no-cache"


def test_a_photo_is_served_as_the_picture_it_is_and_as_nothing_else(floor: Floor) -> None:
    path = f"/cases/{floor.open_case()['id']}/photos"
    made = floor.ask("POST", path, content=PNG, headers={"Content-Type": "image/png"}).json()
    headers = floor.get(f"{path}/{made['photos'][0]['id']}").headers
    assert headers["content-type"] == "image/png" and headers["x-content-type-options"] == "nosniff"
    assert headers["content-security-policy"] == "default-src 'none'; sandbox"
    assert headers["content-disposition"].startswith("inline; filename=")
    assert headers["cache-control"].startswith("private")


def test_an_answer_opened_in_a_browser_is_a_file_and_no_page_of_this_origin(floor: Floor) -> None:
    for path in ("/api/me", "/api/cases", "/api/nothing", "/api/openapi.json", "/health/ready"):
        headers = floor.client.get(path, headers=floor.as_("manager")).headers
        assert headers["content-disposition"].startswith("attachment;")
    assert "content-disposition" not in floor.client.get("/").headers


def test_browsers_are_told_to_stay_with_tls_only_where_the_address_has_it(floor: Floor) -> None:
    assert "strict-transport-security" not in floor.get("/me").headers
    house = floor.house
    house.settings = replace(house.settings, address="https://shop.example")
    for path in ("/me", "/nothing"):
        assert floor.get(path).headers["strict-transport-security"] == "max-age=31536000"


def test_nothing_sets_a_cookie_and_a_cookie_says_nothing(floor: Floor) -> None:
    token = floor.as_("manager")["Authorization"].removeprefix("Bearer ")
    for name in ("token", "session", "Authorization", "baylore"):
        answer = floor.client.get("/api/me", headers={"Cookie": f"{name}={token}"})
        assert answer.status_code == 401
    for path in ("/", "/api/me", "/api/cases", "/health/live"):
        assert "set-cookie" not in floor.client.get(path, headers=floor.as_("manager")).headers


def test_what_a_browser_would_send_from_another_site_is_refused(floor: Floor) -> None:
    """A form sends no Authorization header and no JSON; a script may not, for want of CORS."""
    form = {"Content-Type": "application/x-www-form-urlencoded", "Origin": "https://elsewhere.example"}
    assert floor.client.post("/api/cases", content=b"complaint=x", headers=form).status_code == 401
    signed = floor.as_("technician") | form
    assert floor.client.post("/api/cases", content=b"complaint=x", headers=signed).status_code == 415
    plain = floor.as_("technician") | {"Content-Type": "text/plain", "Origin": "https://elsewhere.example"}
    assert floor.client.post("/api/cases", content=b'{"complaint":"x"}', headers=plain).status_code == 415
    asked = {"Origin": "https://elsewhere.example", "Access-Control-Request-Method": "POST"}
    for answer in (
        floor.client.options("/api/cases", headers=asked),
        floor.get("/me", headers={"Origin": "https://elsewhere.example"}),
    ):
        assert not [name for name in answer.headers if name.startswith("access-control")]


def test_a_token_in_an_address_is_not_taken(floor: Floor) -> None:
    token = floor.as_("manager")["Authorization"].removeprefix("Bearer ")
    for name in ("token", "access_token", "authorization"):
        assert floor.client.get(f"/api/me?{name}={token}").status_code == 401
