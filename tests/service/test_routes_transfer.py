"""The whole memory out and in through the web."""

from __future__ import annotations

import json
from typing import Any

from tests.service.app_fixtures import CAR, COMPLAINT, PART, PNG, READING, TEST, Floor, new_id
from tests.service.test_routes_refusals import check_problem

LINES = {"Content-Type": "application/x-ndjson"}


def send(floor: Floor, lines: list[Any], *, mode: str = "all", who: str = "manager") -> Any:
    """Lines sent in; a line that is bytes goes as it is."""
    body = b"\n".join(line if isinstance(line, bytes) else json.dumps(line).encode() for line in lines)
    return floor.ask("POST", f"/import?mode={mode}", content=body, headers=LINES, who=who)


def line(**fields: Any) -> dict[str, Any]:
    """A case of a file."""
    return {"id": new_id(), "complaint": COMPLAINT, "vehicle": CAR} | fields


def test_an_export_taken_in_by_another_shop_holds_the_same_cases(floor: Floor) -> None:
    case = floor.open_case(tests=[TEST], readings=[READING], parts=[PART], codes=["B1342"])
    floor.ask("POST", f"/cases/{case['id']}/photos", content=PNG, headers={"Content-Type": "image/png"})
    closed = floor.close_case(case["id"], verification="ran it ten times")
    out = floor.get("/export", who="manager")
    assert out.headers["content-type"] == "application/x-ndjson"
    kinds = [json.loads(each)["kind"] for each in out.text.splitlines()]
    assert kinds == ["shop", "case", "photo"]
    again = send(floor, out.content.splitlines())
    assert again.json()["unchanged"] >= 1 and again.json()["added"] == 0
    assert floor.get(f"/cases/{case['id']}").json() == floor.get(f"/cases/{closed['id']}").json()


def test_the_same_lines_twice_double_nothing(floor: Floor) -> None:
    lines = [line(), line(complaint="no crank"), {"complaint": "whine when cold", "vehicle": CAR}]
    first, again = send(floor, lines).json(), send(floor, lines).json()
    assert (first["added"], first["refused"]) == (3, 0)
    assert (again["added"], again["unchanged"]) == (0, 3)
    assert len(floor.get("/cases").json()["cases"]) == 3


def test_a_shop_keeps_its_own_systems_and_finds_its_cases_by_them(floor: Floor) -> None:
    sent = [
        line(cause_title="Joint dry", cause_system="own.drive_line", opened="2025-03-01T08:00:00Z")
        for _ in range(3)
    ]
    assert send(floor, sent).json()["added"] == 3
    found = floor.get("/cases?system=own.drive_line").json()["cases"]
    assert {case["id"] for case in found} == {case["id"] for case in sent}
    rows = floor.get("/recurrences?by=system&least=1&system=own.drive_line", who="manager").json()["rows"]
    assert [(row["title"], row["observed"]) for row in rows] == [("drive line", 3)]


def test_a_system_that_no_list_has_is_refused_with_the_nearest(floor: Floor) -> None:
    found = send(floor, [line(cause_title="Pads worn", cause_system="brake")])
    assert "brakes" in found.text and "cause_system" in found.text
    assert floor.get("/cases?system=brakes").json()["cases"] == []


def test_a_case_of_a_file_keeps_its_ending(floor: Floor) -> None:
    sent = line(
        state="closed",
        opened="2025-03-01T08:00:00Z",
        closed="2025-03-01T10:00:00Z",
        cause_title="Mouse nest in the duct",
        correction="cleaned",
        verified=True,
        labour={"repair_min": 30},
    )
    assert send(floor, [sent]).json()["added"] == 1
    case = floor.get(f"/cases/{sent['id']}").json()
    assert (case["state"], case["closed"], case["verified"]) == ("closed", "2025-03-01T10:00:00Z", True)
    assert case["cause"].startswith("own.") and case["cause_title"] == "Mouse nest in the duct"


BAD_LINES: list[tuple[Any, str]] = [
    (b'{"complaint": "x"', ""),
    (b"\xff\xfe", ""),
    ({"complaint": "x", "colour": "red"}, "colour"),
    ({"vehicle": CAR}, "complaint"),
    ({"complaint": "x", "codes": ["Z9"]}, "codes[0]"),
    ({"complaint": "x", "readings": [READING | {"unit": "km"}]}, "readings[0].unit"),
    ({"complaint": "x", "opened": "2999-01-01T00:00:00Z"}, "opened"),
    ({"complaint": "x", "state": "closed"}, "cause"),
    ({"complaint": "x\x00"}, "complaint"),
    ({"kind": "gossip", "complaint": "x"}, "kind"),
]


def test_one_bad_line_refuses_the_whole_file(floor: Floor) -> None:
    lines = [line(), *(bad for bad, _ in BAD_LINES)]
    problem = check_problem(send(floor, lines), 422)
    assert problem["type"].endswith("import-refused") and len(problem["errors"]) == len(BAD_LINES)
    for at, ((_, field), error) in enumerate(zip(BAD_LINES, problem["errors"], strict=True), start=2):
        assert error["field"] == (f"line {at}: {field}" if field else f"line {at}")
        assert error["detail"] and error["remedy"]
    assert floor.get("/cases").json()["cases"] == []


def test_the_good_lines_are_taken_when_a_report_is_asked_for(floor: Floor) -> None:
    report = send(floor, [line(), b"{", line()], mode="report").json()
    assert (report["added"], report["refused"]) == (2, 1)
    assert report["lines"][0]["line"] == 2 and report["lines"][0]["remedy"]
    assert len(floor.get("/cases").json()["cases"]) == 2


def test_a_file_that_is_none_is_refused(floor: Floor) -> None:
    check_problem(floor.ask("POST", "/import", json={"complaint": "x"}, who="manager"), 415)
    check_problem(floor.ask("POST", "/import", content=b"", headers=LINES, who="manager"), 400)
    check_problem(send(floor, [line()], mode="some"), 422, "mode")
