"""A phone older than the service: told so on every answer, and its writes refused before they are misread."""

from __future__ import annotations

import pytest
from httpx import Response
from tests.service.app_fixtures import Floor
from tests.service.test_routes_refusals import check_problem

from baylore_service.routes import formats

CASE = {"complaint": "no crank"}


@pytest.fixture
def newer(monkeypatch: pytest.MonkeyPatch) -> int:
    """A service that reads only a form after the present one."""
    monkeypatch.setattr(formats, "LEAST", formats.SPOKEN + 1)
    return formats.SPOKEN + 1


def written_in(floor: Floor, form: str) -> Response:
    """The answer to a case opened by a client of a form."""
    return floor.ask("POST", "/cases", json=CASE, headers={"Baylore-Format": form})


def test_every_answer_tells_the_least_form(floor: Floor, newer: int) -> None:
    assert floor.get("/me").headers["baylore-least-format"] == str(newer)


def test_an_older_phone_may_read_and_its_writes_are_refused_with_the_remedy(floor: Floor, newer: int) -> None:
    problem = check_problem(written_in(floor, str(newer - 1)), 409)
    assert problem["type"] == "/problems/outdated-client"
    assert "kept" in problem["remedy"]
    assert floor.ask("GET", "/cases", headers={"Baylore-Format": str(newer - 1)}).json()["cases"] == []


def test_a_phone_of_the_present_form_and_a_program_without_one_may_write(floor: Floor, newer: int) -> None:
    answers = [written_in(floor, str(newer)), floor.ask("POST", "/cases", json=CASE)]
    assert [each.status_code for each in answers] == [201, 201]


@pytest.mark.parametrize("form", ["", "one", "-1", "1.5", "9999999"])
def test_a_form_that_is_no_number_is_refused_by_its_name(floor: Floor, form: str) -> None:
    problem = check_problem(written_in(floor, form), 422)
    assert problem["field"] == "Baylore-Format"
