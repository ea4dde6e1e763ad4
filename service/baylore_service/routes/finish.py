"""Finishes the drawn OpenAPI document: exact schemas, raw bodies, every refusal that can occur."""

from __future__ import annotations

import json
from typing import Any

from baylore_service.routes.intake import LINES, PICTURES
from baylore_service.wire.decode import encode
from baylore_service.wire.schemas import components
from baylore_service.wire.tables import MEDIA

Node = dict[str, Any]
REASONS = {
    "400": "The request cannot be read.",
    "401": "No token, or one that does not hold (any more).",
    "403": "This needs another role, or the sign-in code does not work.",
    "404": "Not there, or not this shop's.",
    "408": "The body took too long to arrive.",
    "409": "The case is in another state, the id is taken, or something else needs it.",
    "412": "The case was changed meanwhile; the answer carries its ETag.",
    "413": "The body is too large.",
    "415": "The kind of body does not fit.",
    "422": "A value cannot be; the answer names the field and what helps.",
    "428": "If-Match is missing.",
    "429": "Too many wrong codes or tokens came from this address; the answer says how long to wait.",
    "500": "The service failed.",
}
RAW = {"/api/import": LINES[:1], "/api/cases/{case_id}/photos": PICTURES}
TEXT: Node = {"schema": {"type": "string"}}
MERGE = "application/merge-patch+json"
PROBLEM = {"application/problem+json": {"schema": {"$ref": "#/components/schemas/Problem"}}}
BINARY = {"schema": {"type": "string", "format": "binary"}}
SHARED = ("/api/cases/{case_id}/sharing", "/api/advice/elsewhere")
TAGGED = ("/api/cases/{case_id}", "/api/cases/{case_id}/sharing")
LOCATED = {"/api/cases", "/api/cases/{case_id}/reopen"}


def finished(schema: Node) -> Node:
    """The document as it is served."""
    document: Node = json.loads(encode(schema))
    # The framework loses limits inside unions and lets unknown fields pass; the structs know better.
    document["components"]["schemas"] = components()
    for path, item in document["paths"].items():
        for method, operation in item.items():
            finish_operation(path, method, operation)
    link_cases(document["paths"])
    return document


def link_cases(paths: Node) -> None:
    """From a case that was opened to all that can be done with it."""
    acts = [
        operation["operationId"]
        for path, item in paths.items()
        for operation in item.values()
        if path.startswith("/api/cases/{case_id}") and path.count("{") == 1
    ]
    links = {name: {"operationId": name, "parameters": {"case_id": "$response.body#/id"}} for name in acts}
    paths["/api/cases"]["post"]["responses"]["201"]["links"] = links


def finish_operation(path: str, method: str, operation: Node) -> None:
    """One operation: its body kinds, its parameters, its refusals, whether it needs a token."""
    if kinds := RAW.get(path) if method == "post" else None:
        operation["requestBody"] = {"required": True, "content": dict.fromkeys(kinds, BINARY)}
    body = operation.get("requestBody")
    if body and method == "patch":
        body["content"][MERGE] = body["content"]["application/json"]
    for parameter in operation.get("parameters", ()):
        parameter["schema"] = without_null(parameter["schema"])
    if (path, method) == ("/api/devices", "post"):
        operation["security"] = []
    finish_responses(path, method, operation)


def finish_responses(path: str, method: str, operation: Node) -> None:
    """The answers of one operation: the good one with its headers, and the refusals."""
    responses: Node = operation["responses"]
    responses.pop("400", None)
    good = next(iter(responses.values()))
    good["headers"] = good.get("headers", {}) | good_headers(path, method, good)
    if path == "/api/cases/{case_id}/photos/{photo_id}":
        good["content"] = dict.fromkeys(PICTURES, BINARY)
    if path.endswith("/table"):
        good["content"] = {kind.split(";")[0]: TEXT for kind in MEDIA.values()}
    if path == "/api/export":
        good["content"] = {"application/x-ndjson": TEXT}
    if any(parameter["name"] == "If-None-Match" for parameter in operation.get("parameters", ())):
        responses["304"] = {"description": "What the client has is still so."}
    for status in refusals(path, method, operation):
        responses[status] = {"description": REASONS[status], "content": PROBLEM}


def good_headers(path: str, method: str, answer: Node) -> Node:
    """The headers a good answer carries."""
    content = answer.get("content") or {}
    found = {}
    if any(kind.get("schema", {}).get("$ref", "").endswith("/Case") for kind in content.values()):
        found["ETag"] = TEXT
    if path in LOCATED and method == "post":
        found["Location"] = TEXT
    if (path, method) == ("/api/cases", "get"):
        found["Link"] = TEXT
    return found


def refusals(path: str, method: str, operation: Node) -> list[str]:
    """The refusals an operation can answer."""
    names = {parameter["name"] for parameter in operation.get("parameters", ())}
    writes = method in ("post", "patch", "delete")
    rules = {
        "401": operation.get("security") != [],
        "403": "(managers" in operation.get("description", "") or (path, method) == ("/api/devices", "post"),
        "404": "{" in path or path == "/api/enrolments",
        "409": path in SHARED or (writes and path.startswith(("/api/cases", "/api/members", "/api/trade"))),
        "412": "If-Match" in names,
        "422": bool(names or operation.get("requestBody")),
        "428": path in TAGGED and method in ("patch", "delete"),
        "429": True,
        "500": True,
    }
    rules |= dict.fromkeys(("400", "408", "413", "415"), bool(operation.get("requestBody")))
    rules["400"] |= any(
        each["in"] == "query" and each.get("required") for each in operation.get("parameters", ())
    )
    return sorted(status for status, occurs in rules.items() if occurs)


def without_null(schema: Node) -> Node:
    """A parameter's schema: it is left out rather than null."""
    if isinstance(schema.get("type"), list):
        words = [word for word in schema["enum"] if word is not None]
        return schema | {"type": "string", "enum": words}
    kinds = [kind for kind in schema.get("oneOf", ()) if kind.get("type") != "null"]
    if len(kinds) != 1:
        return schema
    rest = {name: value for name, value in schema.items() if name != "oneOf"}
    return {**kinds[0], **rest}
