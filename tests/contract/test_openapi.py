"""The OpenAPI document says what the service does."""

from __future__ import annotations

from typing import Any

import jsonschema_rs
import pytest
from tests.contract.test_bodies import FILES
from tests.service.app_fixtures import Floor

Node = dict[str, Any]
MARKS = {"get", "post", "patch", "delete"}


@pytest.fixture
def document(floor: Floor) -> Node:
    """The document as it is served, without a token."""
    answer = floor.client.get("/api/openapi.json")
    assert answer.status_code == 200
    return dict(answer.json())


def operations(document: Node) -> list[tuple[str, str, Node]]:
    """Path, method and operation of all."""
    return [(path, method, item[method]) for path, item in document["paths"].items() for method in item]


def references(node: Any) -> set[str]:
    """The names of the schemas a part refers to."""
    if isinstance(node, list):
        return {name for each in node for name in references(each)}
    if not isinstance(node, dict):
        return set()
    own = {node["$ref"].rpartition("/")[2]} if "$ref" in node else set()
    return own | {name for each in node.values() for name in references(each)}


def test_the_document_is_openapi_3_1_with_a_bearer_scheme(document: Node) -> None:
    assert document["openapi"].startswith("3.1")
    scheme = document["components"]["securitySchemes"]["deviceToken"]
    assert (scheme["type"], scheme["scheme"]) == ("http", "bearer")


def test_every_operation_has_a_tag_a_text_and_a_name_of_its_own(document: Node) -> None:
    found = operations(document)
    assert {method for _, method, _ in found} <= MARKS
    names = [operation["operationId"] for _, _, operation in found]
    assert len(names) == len(set(names))
    known = {tag["name"] for tag in document["tags"]}
    assert all(set(each["tags"]) <= known and each["description"] for _, _, each in found)


def test_all_schemas_that_are_named_are_there(document: Node) -> None:
    assert references(document) <= document["components"]["schemas"].keys()


def test_what_is_sent_in_is_closed_and_limited(document: Node) -> None:
    schemas = document["components"]["schemas"]
    waiting = references([each.get("requestBody", {}) for _, _, each in operations(document)])
    seen: set[str] = set()
    while waiting:
        name = waiting.pop()
        seen.add(name)
        waiting |= references(schemas[name]) - seen
        for each in schemas[name].get("anyOf", [schemas[name]]):
            assert "$ref" in each or each["additionalProperties"] is False, name
    assert {"Complaint", "CaseDraft", "Vehicle", "Reading", "Measure", "CasePatch", "Closing"} <= seen
    assert schemas["Complaint"]["properties"]["complaint"]["maxLength"] == 4000


def test_refusals_are_documented_where_they_can_occur(document: Node) -> None:
    paths = document["paths"]
    assert {"401", "404", "412", "415", "422", "428"} <= paths["/api/cases/{case_id}"]["patch"][
        "responses"
    ].keys()
    assert {"401", "409", "413", "422"} <= paths["/api/cases"]["post"]["responses"].keys()
    assert {"403"} <= paths["/api/members"]["get"]["responses"].keys()
    assert "401" not in paths["/api/devices"]["post"]["responses"]
    for path, method, operation in operations(document):
        for status, answer in operation["responses"].items():
            kinds = answer.get("content", {}).keys()
            assert status < "400" or kinds == {"application/problem+json"}, (path, method)


@pytest.mark.parametrize(
    "name", [name for name, body in FILES.items() if body["answer"] and name != "export"]
)
def test_the_bodies_keep_to_the_document(document: Node, name: str) -> None:
    method, path = FILES[name]["route"].split()
    answer = document["paths"][path][method.lower()]["responses"][str(FILES[name]["status"])]
    (kind,) = answer["content"].values()
    schema = kind["schema"] | {"components": document["components"]}
    jsonschema_rs.validator_for(schema, validate_formats=True).validate(FILES[name]["answer"])
