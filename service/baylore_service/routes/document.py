"""The OpenAPI document: what the framework draws, and what it leaves out."""

from __future__ import annotations

import json
from typing import Any

from litestar import Request
from litestar.openapi.config import OpenAPIConfig
from litestar.openapi.plugins import JsonRenderPlugin
from litestar.openapi.spec import Components, SecurityScheme, Tag

from baylore_service.routes.intake import LINES, PICTURES

BEARER = "deviceToken"
REASONS = {
    "400": "The request cannot be read.",
    "401": "No token, or one that does not hold (any more).",
    "403": "This needs another role, or the sign-in code does not work.",
    "404": "Not there, or not this shop's.",
    "409": "The case is in another state, or the id is taken.",
    "412": "The case was changed meanwhile; the answer carries its ETag.",
    "413": "The body is too large.",
    "415": "The kind of body does not fit.",
    "422": "A value cannot be; the answer names the field and what helps.",
    "428": "If-Match is missing.",
    "500": "The service failed.",
}
RAW = {"/api/import": LINES[:1], "/api/cases/{case_id}/photos": PICTURES}
MERGE = "application/merge-patch+json"
PROBLEM = {"$ref": "#/components/schemas/Problem"}
Node = dict[str, Any]


class Document(JsonRenderPlugin):
    """Serves the finished document."""

    def __init__(self) -> None:
        super().__init__(path="/")
        self._body: bytes | None = None

    def render(self, request: Request[Any, Any, Any], openapi_schema: Node) -> bytes:
        """The document, finished once."""
        if self._body is None:
            self._body = json.dumps(finished(openapi_schema), ensure_ascii=False).encode()
        return self._body


def config(version: str) -> OpenAPIConfig:
    """What the framework needs to draw the document; no pages that load scripts from elsewhere."""
    return OpenAPIConfig(
        title="Baylore",
        version=version,
        summary="A repair shop's fault memory.",
        path="/api/openapi.json",
        render_plugins=[Document()],
        use_handler_docstrings=True,
        components=Components(security_schemes={BEARER: SecurityScheme(type="http", scheme="bearer")}),
        security=[{BEARER: []}],
        tags=[Tag(name=name, description=text) for name, text in TAGS.items()],
    )


TAGS = {
    "advice": "What was it before, and what to test next.",
    "cases": "Complaints on vehicles, from open to closed.",
    "steps": "What was tested, measured and fitted.",
    "photos": "Pictures of a case.",
    "patterns": "What keeps failing, and which parts cure.",
    "offline copies": "What phones keep.",
    "shop": "Who asks, and the shop's habits.",
    "members": "The people of the shop.",
    "devices": "Phones and tablets.",
    "transfer": "The whole memory out and in.",
}


def finished(schema: Node) -> Node:
    """The document with closed inputs, raw bodies, and every refusal that can occur."""
    document: Node = json.loads(json.dumps(schema))
    schemas: Node = document["components"]["schemas"]
    schemas["Problem"] = problem_schema()
    close_inputs(document, schemas)
    single_reading(schemas)
    for path, item in document["paths"].items():
        for method, operation in item.items():
            finish_operation(path, method, operation)
    return document


def finish_operation(path: str, method: str, operation: Node) -> None:
    """One operation: its body kinds, its refusals, whether it needs a token."""
    if kinds := RAW.get(path) if method == "post" else None:
        binary = {"schema": {"type": "string", "format": "binary"}}
        operation["requestBody"] = {"required": True, "content": dict.fromkeys(kinds, binary)}
    body = operation.get("requestBody")
    if body and method == "patch":
        body["content"][MERGE] = body["content"]["application/json"]
    if (path, method) == ("/api/devices", "post"):
        operation["security"] = []
    responses: Node = operation["responses"]
    responses.pop("400", None)
    for status in refusals(path, method, operation):
        responses[status] = {
            "description": REASONS[status],
            "content": {"application/problem+json": {"schema": PROBLEM}},
        }


def refusals(path: str, method: str, operation: Node) -> list[str]:
    """The refusals an operation can answer."""
    names = {parameter["name"] for parameter in operation.get("parameters", ())}
    found = {"500"}
    found |= {"401"} if operation.get("security") != [] else set()
    found |= {"403"} if "(managers" in operation.get("description", "") or path == "/api/devices" else set()
    found |= {"404"} if "{" in path or path == "/api/enrolments" else set()
    found |= {"422"} if names or operation.get("requestBody") else set()
    found |= {"400", "413", "415"} if operation.get("requestBody") else set()
    found |= {"412"} if "If-Match" in names else set()
    found |= {"428"} if path == "/api/cases/{case_id}" and method in ("patch", "delete") else set()
    found |= {"409"} if path.startswith("/api/cases") and method in ("post", "patch", "delete") else set()
    return sorted(found)


def close_inputs(document: Node, schemas: Node) -> None:
    """Mark what refuses unknown fields: every schema that a request body can hold."""
    waiting = [
        name
        for item in document["paths"].values()
        for operation in item.values()
        for name in references(operation.get("requestBody", {}))
    ]
    seen: set[str] = set()
    while waiting:
        name = waiting.pop()
        if name in seen:
            continue
        seen.add(name)
        schemas[name]["additionalProperties"] = False
        waiting += references(schemas[name])


def references(node: Any) -> list[str]:
    """Names of the schemas that a part of the document refers to."""
    if isinstance(node, list):
        return [name for each in node for name in references(each)]
    if not isinstance(node, dict):
        return []
    own = [node["$ref"].rpartition("/")[2]] if "$ref" in node else []
    return own + [name for each in node.values() for name in references(each)]


def single_reading(schemas: Node) -> None:
    """One reading by itself is judged as well as a list of them."""
    listed = schemas.get("JudgeRequest")
    if listed is not None:
        schemas["JudgeRequest"] = {"oneOf": [listed, {"$ref": "#/components/schemas/Reading"}]}


def problem_schema() -> Node:
    """The one shape of a refusal (RFC 9457)."""
    text = {"type": "string"}
    trouble = {
        "type": "object",
        "required": ["field", "detail", "remedy"],
        "properties": {"field": text, "detail": text, "remedy": text},
    }
    return {
        "type": "object",
        "title": "Problem",
        "required": ["type", "title", "status", "detail", "remedy"],
        "properties": {
            "type": text,
            "title": text,
            "status": {"type": "integer", "minimum": 400, "maximum": 599},
            "detail": text,
            "field": {"type": "string", "description": "Where it is, such as readings[0].unit."},
            "remedy": {"type": "string", "description": "What helps, in plain words."},
            "errors": {"type": "array", "items": trouble},
        },
    }
