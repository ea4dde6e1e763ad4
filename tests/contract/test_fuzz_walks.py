"""Made-up walks: a case is opened, then anything that can be done with it is, by the document's links."""

from __future__ import annotations

import os
from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from tests.contract.test_fuzz import CONFIG
from tests.service.app_fixtures import Floor

from baylore_service.desk.tries import Tries

MORE = bool(os.environ.get("BAYLORE_FUZZ"))
WALKS = settings(
    max_examples=150 if MORE else 3,
    stateful_step_count=12 if MORE else 6,
    deadline=None,
    database=None,
    derandomize=not MORE,
    suppress_health_check=list(HealthCheck),
)


@pytest.fixture
def api(floor: Floor) -> Any:
    """The document of the running service, which takes wrong tokens all day here."""
    floor.house.tries = Tries(floor.house.store, 1_000_000)
    return schemathesis.openapi.from_asgi("/api/openapi.json", floor.client.app, config=CONFIG)


def test_no_walk_through_a_case_meets_a_crash_or_an_answer_the_document_does_not_know(
    floor: Floor, api: Any
) -> None:
    class Walk(api.as_state_machine()):  # type: ignore[misc]
        def get_call_kwargs(self, case: Any) -> dict[str, Any]:
            """Asked by the manager's phone."""
            return {"headers": floor.as_("manager")}

    Walk.run(settings=WALKS)
