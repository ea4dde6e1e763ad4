"""The bodies in this folder, which the phone's tests read too, are what the service takes and gives."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest
from litestar.handlers import HTTPRouteHandler
from tests.contract.story import told
from tests.service.app_fixtures import Floor

from baylore_service.wire.cases import Case
from baylore_service.wire.own_lines import KINDS
from baylore_service.wire.problem import Problem
from baylore_service.wire.transfer import CaseLine, PhotoLine, ShopLine

FOLDER = Path(__file__).parent
FILES = {path.stem: json.loads(path.read_text()) for path in sorted(FOLDER.glob("*.json"))}
LINES: dict[str, Any] = {"case": CaseLine, "photo": PhotoLine, "shop": ShopLine, **KINDS}


def handlers(floor: Floor) -> dict[str, HTTPRouteHandler]:
    """The handlers of the documented routes, by method and path."""
    return {
        f"{method} {route.path_format}": handler
        for route in floor.client.app.routes
        for method, (handler, _) in getattr(route, "route_handler_map", {}).items()
        if handler.resolve_include_in_schema() and method != "OPTIONS"
    }


def read(body: Any, kind: Any) -> Any:
    """A body read as strictly as the service reads it."""
    return msgspec.json.decode(json.dumps(body).encode(), type=kind)


def answered_kind(handler: HTTPRouteHandler) -> Any:
    """The struct a handler answers with; None where it is none."""
    kind = handler.parsed_fn_signature.return_type
    found = kind.inner_types[0].annotation if kind.inner_types else kind.annotation
    return found if isinstance(found, type) and issubclass(found, msgspec.Struct) else None


def shape(value: Any) -> Any:
    """What a body is made of: names and kinds, of lists their first entry; nulls and maps are open."""
    if isinstance(value, dict):
        return {name: shape(each) for name, each in value.items()}
    if isinstance(value, list):
        return [shape(value[0])] if value else []
    return (
        "number" if isinstance(value, int | float) and not isinstance(value, bool) else type(value).__name__
    )


def alike(one: Any, other: Any) -> bool:
    """Whether two shapes can be of the same kind of body."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one.keys() == other.keys() and all(alike(one[name], other[name]) for name in one)
    if isinstance(one, list) and isinstance(other, list):
        return not one or not other or alike(one[0], other[0])
    return one == other or "NoneType" in (one, other)


def test_every_documented_route_has_a_body(floor: Floor) -> None:
    assert {each["route"] for each in FILES.values()} - {"GET /api/trade/{name}"} == handlers(
        floor
    ).keys() - {"GET /api/trade/{name}"}
    assert {
        f"trade-{name}" for name in ("systems", "symptoms", "quantities", "tests", "causes", "cautions")
    } <= (FILES.keys())


@pytest.mark.parametrize("name", FILES)
def test_a_body_is_read_by_the_structs_of_its_route(floor: Floor, name: str) -> None:
    body = FILES[name]
    handler = handlers(floor)[body["route"]]
    if body["status"] >= 400:
        assert read(body["answer"], Problem).status == body["status"]
        return
    assert body["status"] == handler.status_code
    if "data" in handler.parsed_fn_signature.parameters:
        read(body["request"], handler.parsed_fn_signature.parameters["data"].annotation)
    if kind := answered_kind(handler):
        assert read(body["answer"], kind)


def test_lines_of_the_export_are_lines_of_the_import() -> None:
    for line in FILES["export"]["answer"]:
        assert read(line, LINES[line["kind"]])
    whole = next(line for line in FILES["export"]["answer"] if line["kind"] == "case")
    assert read({name: value for name, value in whole.items() if name != "kind"}, Case)


def test_the_running_service_still_says_what_the_bodies_hold(floor: Floor) -> None:
    said = {each.name: each.as_json() for each in told(floor)}
    assert said.keys() == FILES.keys()
    for name, body in said.items():
        assert (body["route"], body["status"]) == (FILES[name]["route"], FILES[name]["status"])
        assert alike(shape(body["request"]), shape(FILES[name]["request"])), name
        assert alike(shape(body["answer"]), shape(FILES[name]["answer"])), name
