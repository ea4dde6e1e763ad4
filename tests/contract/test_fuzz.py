"""Made-up requests over the whole document: no crash, and no answer the document does not know."""

from __future__ import annotations

import os
from collections.abc import Iterator
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, assume, given, settings
from hypothesis.errors import Unsatisfiable
from schemathesis import APIOperation, GenerationMode
from schemathesis.config import SchemathesisConfig
from tests.service.app_fixtures import PNG, TEST, Floor

from baylore_service.desk.tries import Tries
from baylore_service.routes.document import TAGS

Operation = APIOperation[Any, Any, Any, Any]
MORE = bool(os.environ.get("BAYLORE_FUZZ"))
EXAMPLES = 300 if MORE else 8
# 422 is also the answer to a value of the right form that is on no list, such as a made-up test;
# 415 to made-up bytes that are no picture; 412 and 428 need the tag of the case as it is just now.
CONFIG = SchemathesisConfig.from_dict(
    {
        "checks": {
            "positive_data_acceptance": {
                "expected-statuses": ["2xx", "3xx", 400, 401, 403, 404, 409, 412, 415, 422, 428]
            },
            "negative_data_rejection": {"expected-statuses": [400, 401, 403, 404, 409, 412, 415, 422, 428]},
        }
    }
)


@schemathesis.serializer("application/x-ndjson")
def lines(_: Any, value: Any) -> bytes:
    """Made-up bytes of a file."""
    return value if isinstance(value, bytes) else getattr(value, "data", str(value).encode())


@pytest.fixture
def api(floor: Floor) -> Any:
    """The document of the running service, which takes wrong tokens all day here."""
    floor.house.tries = Tries(floor.house.store, 1_000_000)
    return schemathesis.openapi.from_asgi("/api/openapi.json", floor.client.app, config=CONFIG)


def known_ids(floor: Floor) -> dict[str, str]:
    """Ids of things that are there, so that made-up requests reach the desk."""
    case = floor.open_case(tests=[TEST])
    headers = {"Content-Type": "image/png"}
    photo = floor.ask("POST", f"/cases/{case['id']}/photos", content=PNG, headers=headers).json()["photos"][0]
    return {
        "case_id": case["id"],
        "step_id": case["tests"][0]["id"],
        "photo_id": photo["id"],
        "name": "tests",
    }


def operations(api: Any, tag: str) -> Iterator[Operation]:
    """The operations of a tag."""
    for each in api.get_all_operations():
        if tag in each.ok().definition.raw["tags"]:
            yield each.ok()


def try_out(
    operation: APIOperation[Any, Any, Any, Any],
    mode: GenerationMode,
    *,
    headers: dict[str, str],
    ids: dict[str, str],
) -> None:
    """Made-up requests of one operation; an operation that takes nothing cannot be asked wrongly."""
    named = {each.name: ids[each.name] for each in operation.path_parameters if each.name in ids}

    @settings(
        max_examples=EXAMPLES,
        deadline=None,
        database=None,
        derandomize=not MORE,
        suppress_health_check=list(HealthCheck),
    )
    @given(operation.as_strategy(mode, **({"path_parameters": named} if named else {})))
    def send(case: schemathesis.Case) -> None:
        # A parameter with an empty list for a value is not sent at all, and then nothing is wrong.
        assume(not any(value in ([], {}, None) for value in (case.query or {}).values()))
        case.call_and_validate(headers=headers)

    try:
        send()
    except Unsatisfiable:
        assert mode is GenerationMode.NEGATIVE


@pytest.mark.parametrize("mode", GenerationMode)
@pytest.mark.parametrize("tag", TAGS)
def test_made_up_requests_get_only_answers_the_document_knows(
    floor: Floor, api: Any, tag: str, mode: GenerationMode
) -> None:
    ids = known_ids(floor)
    for operation in operations(api, tag):
        try_out(operation, mode, headers=floor.as_("manager"), ids=ids)
