"""The shop's own lists move out and in with its cases."""

from __future__ import annotations

import json
from typing import Any

import pytest
from tests.service.app_fixtures import Floor
from tests.service.test_routes_own_lists import JOINT, JOINT_ID, PULL, PULL_ID, WET, items, listed
from tests.service.test_routes_refusals import check_problem

__all__ = ["listed"]
LINES = {"Content-Type": "application/x-ndjson"}
ADDED = ("added", "unchanged", "updated", "refused")


@pytest.fixture
def lines(listed: Floor) -> list[dict[str, Any]]:
    """The memory of a shop that worked a case with its own test."""
    case = listed.open_case(**WET)
    listed.post(f"/cases/{case['id']}/tests", {"test": PULL_ID, "outcome": "found", "part": JOINT_ID})
    listed.close_case(case["id"], cause=JOINT_ID, confirmed_by=PULL_ID)
    listed.ask("PATCH", "/trade/tests/crank_drop_neg", json={"minutes": 4})
    text = listed.get("/export", who="manager").text
    return [json.loads(line) for line in text.splitlines()]


def take(floor: Floor, lines: list[dict[str, Any]], mode: str = "all") -> Any:
    """An import into the other shop."""
    body = "\n".join(map(json.dumps, lines)).encode()
    return floor.ask("POST", f"/import?mode={mode}", who="stranger", content=body, headers=LINES)


def counts(answer: Any) -> tuple[int, ...]:
    """What an import did."""
    assert answer.status_code == 200, answer.text
    return tuple(answer.json()[name] for name in ADDED)


def test_own_lists_come_before_the_cases_that_name_them(lines: list[dict[str, Any]]) -> None:
    kinds = [line["kind"] for line in lines]
    assert kinds == ["shop", "own_cause", "own_test", "test_minutes", "case"]


def test_another_shop_takes_all_in_and_the_same_again_changes_nothing(
    listed: Floor, lines: list[dict[str, Any]]
) -> None:
    assert counts(take(listed, lines)) == (4, 0, 0, 0)
    assert items(listed, "tests", who="stranger") == items(listed, "tests")
    assert items(listed, "causes", who="stranger") == items(listed, "causes")
    assert counts(take(listed, lines)) == (0, 4, 0, 0)


def test_the_order_of_the_lines_does_not_matter(listed: Floor, lines: list[dict[str, Any]]) -> None:
    assert counts(take(listed, lines[::-1])) == (4, 0, 0, 0)


def test_a_case_whose_test_is_missing_is_refused_by_its_field(
    listed: Floor, lines: list[dict[str, Any]]
) -> None:
    without = [line for line in lines if line["kind"] != "own_test"]
    problem = check_problem(take(listed, without), 422, f"line {len(without)}")
    assert "tests[0].test" in problem["errors"][0]["field"]
    assert counts(take(listed, without, "report"))[0] == 2
    assert items(listed, "causes", who="stranger")[JOINT_ID]["own"]


def test_a_bad_entry_takes_what_names_it_along(listed: Floor, lines: list[dict[str, Any]]) -> None:
    broken = [line | {"system": "carpets"} if line["kind"] == "own_cause" else line for line in lines]
    only = [line | {"points_at": [JOINT_ID]} if line["kind"] == "own_test" else line for line in broken]
    answer = take(listed, only, "report").json()
    assert [(bad["line"], bad["field"]) for bad in answer["lines"]] == [
        (2, "system"),
        (3, "points_at[0]"),
        (5, "tests[0].test"),
    ]
    assert answer["added"] == 1 and PULL_ID not in items(listed, "tests", who="stranger")


def test_an_entry_changed_later_here_stays(listed: Floor, lines: list[dict[str, Any]]) -> None:
    take(listed, lines)
    listed.ask("PATCH", f"/trade/tests/{PULL_ID}", who="stranger", json={"minutes": 30})
    assert counts(take(listed, lines)) == (0, 4, 0, 0)
    assert items(listed, "tests", who="stranger")[PULL_ID]["do_min"] == 30


def test_an_entry_changed_later_in_the_file_is_taken(listed: Floor, lines: list[dict[str, Any]]) -> None:
    take(listed, lines)
    later = [line | {"minutes": 12} if line["kind"] == "own_test" else line for line in lines]
    for line in later:
        line.pop("updated", None) if line["kind"] == "own_test" else None
        line.pop("made", None) if line["kind"] == "own_test" else None
    assert counts(take(listed, later)) == (0, 3, 1, 0)


def test_lines_written_by_hand_need_no_ids_and_times(floor: Floor) -> None:
    by_hand = [{"kind": "own_cause"} | JOINT, {"kind": "own_test"} | PULL]
    assert counts(take(floor, by_hand)) == (2, 0, 0, 0)
    assert PULL_ID in items(floor, "tests", who="stranger")


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"colour": 1}, "colour"),
        ({"id": "pull"}, "id"),
        ({"minutes": "6"}, "minutes"),
        ({"title": ""}, "title"),
    ],
)
def test_a_line_that_cannot_be_is_named(floor: Floor, change: dict[str, Any], field: str) -> None:
    line = {"kind": "own_test"} | PULL | {"points_at": ["body_elec.seal.leaking"]} | change
    problem = check_problem(take(floor, [line]), 422, "line 1")
    assert problem["errors"] and field in problem["errors"][0]["field"]
