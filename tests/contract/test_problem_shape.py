"""Every route answers refusals in the one shape, and every error has its status."""

from __future__ import annotations

from typing import Any

import pytest
from litestar.testing import TestClient
from tests.contract.test_bodies import FILES
from tests.contract.test_openapi import operations
from tests.service.app_fixtures import PNG, Floor, new_id
from tests.service.test_routes_refusals import check_problem

from baylore_kb import errors as kb_errors
from baylore_service import errors
from baylore_service.routes.problems import BY_ERROR, UNEXPECTED, kind_of

ROUTES = sorted({body["route"] for body in FILES.values()})
NAMED = (
    "case_id",
    "step_id",
    "photo_id",
    "member_id",
    "device_id",
    "test_id",
    "cause_id",
    "alert_id",
    "hook_id",
)
IDS = dict.fromkeys((*NAMED, "word", "name", "part"), new_id())


def ask(floor: Floor, route: str, headers: dict[str, str], **options: Any) -> Any:
    """One request to a route, with ids of nothing."""
    method, path = route.split()
    return floor.client.request(method, path.format(**IDS), headers=headers, **options)


@pytest.mark.parametrize("route", ROUTES)
def test_a_route_without_a_token_answers_a_problem(floor: Floor, route: str) -> None:
    answer = ask(floor, route, {})
    check_problem(answer, 415 if route == "POST /api/devices" else 401)


@pytest.mark.parametrize("route", ROUTES)
def test_a_route_with_an_unknown_parameter_answers_a_problem(floor: Floor, route: str) -> None:
    problem = check_problem(ask(floor, route, floor.as_("manager"), params={"colour": "red"}), 422, "colour")
    assert "known here" in problem["remedy"]


# What takes no body.
BARE = ("/hooks/{hook_id}/test", "/me/token")


@pytest.mark.parametrize(
    "route", [each for each in ROUTES if each.startswith(("POST", "PATCH")) and not each.endswith(BARE)]
)
def test_a_route_with_a_body_answers_problems_about_it(floor: Floor, route: str) -> None:
    headers = floor.as_("manager") | {"If-Match": "*"}
    check_problem(ask(floor, route, headers | {"Content-Type": "text/plain"}, content=b"x"), 415)
    if not route.endswith(("/import", "/photos")):
        json = headers | {"Content-Type": "application/json"}
        check_problem(ask(floor, route, json, content=b"{"), 400)
        check_problem(ask(floor, route, json, content=b'{"colour": "red"}'), 422)


@pytest.mark.parametrize("route", [route for route in ROUTES if "{" in route])
def test_a_route_to_nothing_answers_not_found(floor: Floor, route: str) -> None:
    method, path = route.split()
    body = next(body["request"] for body in FILES.values() if body["route"] == route)
    headers = floor.as_("manager") | {"If-Match": "*"}
    options: dict[str, Any] = {"json": body} if body else {}
    if route.endswith("/photos") and method == "POST":
        headers, options = headers | {"Content-Type": "image/png"}, {"content": PNG}
    check_problem(ask(floor, route, headers, **options), 404)


@pytest.mark.parametrize("route", ROUTES)
def test_a_failing_route_answers_a_problem(
    client: TestClient[Any], floor: Floor, route: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: Any) -> None:
        raise RuntimeError("nobody foresaw this")

    monkeypatch.setattr("baylore_service.routes.intake.check_query", fail)
    check_problem(ask(floor, route, floor.as_("manager")), 500)


def test_every_error_of_the_service_and_the_engine_has_a_status() -> None:
    kinds = [
        each
        for module, base in ((errors, errors.ServiceError), (kb_errors, kb_errors.BayloreError))
        for each in vars(module).values()
        if isinstance(each, type) and issubclass(each, base)
    ]
    assert len(kinds) > 15
    for kind in kinds:
        assert kind_of(kind.__new__(kind)) is not UNEXPECTED
        assert (kind.__doc__ or "").strip().endswith(".")


def test_statuses_and_slugs_belong_together() -> None:
    found = {kind.slug: kind for kind in BY_ERROR.values()}
    assert all(found[kind.slug].status == kind.status for kind in BY_ERROR.values())


def test_the_document_names_every_route_of_the_bodies(floor: Floor) -> None:
    document = floor.client.get("/api/openapi.json").json()
    assert sorted(f"{method.upper()} {path}" for path, method, _ in operations(document)) == ROUTES
