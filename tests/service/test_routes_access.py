"""Who may do what, and what every answer carries."""

from __future__ import annotations

import pytest
from tests.service.app_fixtures import COMPLAINT, TEST, Floor, new_id
from tests.service.test_routes_refusals import check_problem

MANAGERS_ONLY = [
    ("GET", "/members", None),
    ("POST", "/members", {"name": "Ada", "role": "technician"}),
    ("PATCH", "/members/x", {"name": "Ada"}),
    ("POST", "/enrolments", {"member": "x"}),
    ("PATCH", "/shop", {"name": "Mine now"}),
    ("GET", "/recurrences", None),
    ("GET", "/export", None),
    ("DELETE", f"/cases/{new_id()}", None),
]
FOR_ALL = ["/me", "/shop", "/cases", "/devices", "/parts", "/changes", "/trade/systems"]


@pytest.mark.parametrize(("method", "path", "body"), MANAGERS_ONLY)
def test_a_technician_may_not_do_what_is_for_managers(
    floor: Floor, method: str, path: str, body: dict[str, str] | None
) -> None:
    check_problem(floor.ask(method, path, json=body), 403)


def test_a_technician_may_not_import(floor: Floor) -> None:
    headers = {"Content-Type": "application/x-ndjson"}
    check_problem(floor.ask("POST", "/import", content=b'{"complaint":"x"}', headers=headers), 403)
    assert floor.get("/cases").json()["cases"] == []


@pytest.mark.parametrize("who", ["technician", "manager"])
@pytest.mark.parametrize("path", FOR_ALL)
def test_both_roles_may_read_what_is_for_all(floor: Floor, who: str, path: str) -> None:
    assert floor.get(path, who=who).status_code == 200


@pytest.mark.parametrize(
    "header", [None, "", "Bearer", "Bearer ", "Basic abc", "Bearer wrong", "Bearer " + "x" * 600]
)
def test_without_a_token_that_holds_nothing_is_answered(floor: Floor, header: str | None) -> None:
    headers = {} if header is None else {"Authorization": header}
    answer = floor.client.get("/api/cases", headers=headers)
    check_problem(answer, 401)
    assert answer.headers["www-authenticate"].startswith("Bearer")


def test_the_scheme_of_the_token_may_be_written_small(floor: Floor) -> None:
    token = floor.as_("technician")["Authorization"].removeprefix("Bearer ")
    assert floor.client.get("/api/me", headers={"Authorization": f"bearer {token}"}).status_code == 200


def test_another_shops_case_looks_like_one_that_is_not_there(floor: Floor) -> None:
    case = floor.open_case()
    for path in ("", "/advice"):
        theirs = check_problem(floor.get(f"/cases/{case['id']}{path}", who="stranger"), 404)
        absent = new_id()
        missing = check_problem(floor.get(f"/cases/{absent}{path}", who="stranger"), 404)
        assert {**theirs, "detail": ""} == {**missing, "detail": ""}
        assert theirs["detail"].replace(case["id"], "") == missing["detail"].replace(absent, "")


def test_another_shop_can_change_nothing(floor: Floor) -> None:
    case = floor.open_case()
    path = f"/cases/{case['id']}"
    check_problem(floor.post(f"{path}/tests", TEST, who="stranger"), 404)
    check_problem(floor.post(f"{path}/close", {"unresolved": "declined"}, who="stranger"), 404)
    tag = {"If-Match": "*"}
    check_problem(floor.ask("PATCH", path, json={"title": "x"}, headers=tag, who="stranger"), 404)
    check_problem(floor.ask("DELETE", path, headers=tag, who="stranger"), 404)
    assert floor.get(path).json() == case
    assert floor.get("/cases", who="stranger").json()["cases"] == []


@pytest.mark.parametrize("path", ["/", "/api/me", "/api/nothing", "/nothing.js", "/health/live", "/metrics"])
def test_every_answer_carries_the_security_headers(floor: Floor, path: str) -> None:
    headers = floor.client.get(path).headers
    assert "default-src 'self'" in headers["content-security-policy"]
    assert "unsafe" not in headers["content-security-policy"]
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"
    assert headers["x-request-id"] and headers["cache-control"]


def test_a_request_id_is_taken_over_where_it_can_be(floor: Floor) -> None:
    assert floor.get("/me", headers={"X-Request-Id": "phone-7"}).headers["x-request-id"] == "phone-7"
    odd = floor.get("/me", headers={"X-Request-Id": "x" * 65}).headers["x-request-id"]
    assert odd != "x" * 65 and len(odd) == 32


def test_an_unknown_address_is_a_problem_with_any_method(floor: Floor) -> None:
    for method in ("GET", "POST", "PUT", "DELETE"):
        check_problem(floor.ask(method, "/nothing"), 404)


def test_a_method_an_address_has_not_is_refused_with_those_it_has(floor: Floor) -> None:
    answer = floor.ask("PUT", "/cases")
    check_problem(answer, 405)
    assert answer.headers["allow"] == "GET, HEAD, OPTIONS, POST"


@pytest.mark.parametrize(
    ("path", "methods"),
    [
        ("/cases", "GET, HEAD, OPTIONS, POST"),
        (f"/cases/{new_id()}", "DELETE, GET, HEAD, OPTIONS, PATCH"),
        ("/members", "GET, HEAD, OPTIONS, POST"),
        ("/devices", "GET, HEAD, OPTIONS, POST"),
    ],
)
def test_options_lists_all_methods_of_an_address(floor: Floor, path: str, methods: str) -> None:
    answer = floor.client.options(f"/api{path}")
    assert (answer.status_code, answer.headers["allow"]) == (204, methods)


def test_head_answers_the_headers_of_get_without_a_body(floor: Floor) -> None:
    case = floor.open_case()
    got, head = floor.get(f"/cases/{case['id']}"), floor.ask("HEAD", f"/cases/{case['id']}")
    assert (head.status_code, head.content) == (200, b"")
    assert head.headers["etag"] == got.headers["etag"]
    assert head.headers["content-length"] == got.headers["content-length"]


def test_the_log_holds_ids_and_no_texts_names_or_tokens(
    floor: Floor, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    floor.open_case()
    line = capsys.readouterr().out
    assert '"route": "/api/cases"' in line and '"status": 201' in line and '"member": "' in line
    assert COMPLAINT not in line and "Ivo" not in line and "Bearer" not in line


def test_the_figures_count_requests_by_route_and_not_by_address(floor: Floor) -> None:
    case = floor.open_case()
    floor.get(f"/cases/{case['id']}")
    text = floor.client.get("/metrics").text
    assert 'baylore_requests_total{method="GET",route="/api/cases/{case_id}",status="200"} 1.0' in text
    assert "baylore_request_seconds_bucket" in text and case["id"] not in text


def test_the_service_says_that_it_lives_and_is_ready(floor: Floor) -> None:
    assert floor.client.get("/health/live").json() == {"status": "alive"}
    floor.house.warm()
    assert floor.client.get("/health/ready").json()["status"] == "ready"
