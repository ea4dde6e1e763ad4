"""Files that are broken, cut off or large. BAYLORE_LINES=10000 sends a file of so many lines."""

from __future__ import annotations

import json
import os
from typing import Any

import pytest
from httpx import Response
from tests.service.app_fixtures import Floor

from baylore_service.desk.audit import verify

LINES = {"Content-Type": "application/x-ndjson"}
MANY = int(os.environ.get("BAYLORE_LINES", "1000"))
BAD = MANY * 2 // 3


def case(n: int) -> bytes:
    """A case as a line of a file."""
    said = {"id": f"00000000-0000-4000-8000-{n:012d}", "complaint": f"one click, no crank, bay {n % 7}"}
    return json.dumps({"kind": "case", **said}).encode()


def sent(floor: Floor, lines: list[bytes], mode: str) -> Response:
    """The answer to a file."""
    body = b"\n".join(lines) + b"\n"
    return floor.ask("POST", f"/import?mode={mode}", who="manager", content=body, headers=LINES)


def kept(floor: Floor) -> int:
    """How many cases there are."""
    return len(floor.house.hosts.snapshot(shop_of(floor)).cases)


def shop_of(floor: Floor) -> str:
    """The shop's id."""
    return str(floor.get("/me").json()["shop"]["id"])


def troubles(answer: Response) -> list[Any]:
    """The lines an answer names."""
    body = answer.json()
    return list(body.get("errors") or body.get("lines") or ())


BROKEN = {
    "cut off in the middle": case(2)[:-20],
    "no JSON": b"complaint;one click",
    "not UTF-8": b'{"complaint": "\xff\xfe"}',
    "of an unknown kind": b'{"kind": "invoice", "complaint": "no crank"}',
    "a list": b"[1, 2, 3]",
    "with a NUL": b'{"complaint": "a\\u0000b"}',
    "nested too deep": b'{"complaint": ' + b"[" * 100_000 + b"]" * 100_000 + b"}",
    "with an unknown cause": b'{"complaint": "no crank", "cause": "no.such"}',
}


@pytest.mark.parametrize("broken", BROKEN.values(), ids=BROKEN.keys())
def test_a_broken_line_is_named_and_nothing_of_the_file_is_in(floor: Floor, broken: bytes) -> None:
    refused = sent(floor, [case(1), broken, case(3)], "all")
    assert refused.status_code == 422 and refused.json()["type"] == "/problems/import-refused"
    assert refused.json()["errors"][0]["field"].startswith("line 2") and kept(floor) == 0
    taken = sent(floor, [case(1), broken, case(3)], "report")
    assert taken.status_code == 200 and (taken.json()["added"], taken.json()["refused"]) == (2, 1)
    assert kept(floor) == 2 and verify(floor.house).good


def test_of_many_cases_one_bad_line_keeps_all_or_itself_out_as_asked(floor: Floor) -> None:
    lines = [case(n) for n in range(1, MANY + 1)]
    lines[BAD - 1] = lines[BAD - 1][:-2]
    refused = sent(floor, lines, "all")
    assert refused.status_code == 422 and refused.json()["errors"][0]["field"].startswith(f"line {BAD}")
    assert len(refused.json()["errors"]) == 1 and kept(floor) == 0
    taken = sent(floor, lines, "report").json()
    assert (taken["added"], taken["refused"], taken["lines"][0]["line"]) == (MANY - 1, 1, BAD)
    assert kept(floor) == MANY - 1
