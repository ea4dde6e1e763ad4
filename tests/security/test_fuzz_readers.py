"""What reads free input, told to read anything: it answers or refuses, and never crashes."""

from __future__ import annotations

import json
import os
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.service.app_fixtures import Floor

from baylore_kb.codes import find_codes, from_hex, parse_code
from baylore_kb.errors import BayloreError
from baylore_kb.tools import tools_for
from baylore_kb.trade import load
from baylore_kb.vin import read_vin
from baylore_service.desk.blanking import blanked

MORE = bool(os.environ.get("BAYLORE_FUZZ"))
USUAL = settings(
    deadline=None,
    database=None,
    derandomize=not MORE,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
SOME = settings(USUAL, max_examples=20_000 if MORE else 50)
FEW = settings(USUAL, max_examples=1_000 if MORE else 20)
ODD = st.sampled_from(
    [
        "P0480",
        "12,6V",
        "1M8GDM9AXKP042788",
        "\u202e",
        "ﬁ",
        "½",
        "º",
        "٣",
        "\ud7ff",
        "won't",
        "--",
        "1e309",
        "0x",
        "µ",
    ]
)
TEXTS = st.lists(st.one_of(ODD, st.text(max_size=30)), max_size=8).map(" ".join)
JSON = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), TEXTS),
    lambda each: st.one_of(st.lists(each, max_size=4), st.dictionaries(TEXTS, each, max_size=4)),
    max_leaves=12,
)
FIELDS = [
    "kind",
    "id",
    "complaint",
    "vehicle",
    "codes",
    "symptoms",
    "readings",
    "tests",
    "parts",
    "state",
    "cause",
    "closed",
    "opened",
    "data",
    "case",
]
LINES = st.dictionaries(st.sampled_from(FIELDS), JSON, max_size=8).map(lambda body: json.dumps(body).encode())
TOOLS = tools_for(load())
READERS = {
    "text": TOOLS.analyzer.analyze,
    "code": parse_code,
    "codes": find_codes,
    "hex": from_hex,
    "vin": read_vin,
    "blanking": lambda text: blanked(text, ("Ada Marsh", text[:20])),
}


@pytest.mark.parametrize("name", READERS)
def test_any_text_is_read_or_refused_in_words(name: str) -> None:
    @SOME
    @given(TEXTS)
    def read(text: str) -> None:
        try:
            READERS[name](text)
        except BayloreError as refused:
            assert refused.message and refused.remedy

    read()


def ask(floor: Floor, path: str, content: bytes, kind: str) -> int:
    """The status of a made-up body, refused in words where it is refused."""
    answer = floor.ask("POST", path, content=content, headers={"Content-Type": kind}, who="manager")
    assert answer.status_code < 500, (content, answer.text)
    if answer.status_code >= 400:
        assert answer.json()["detail"] and answer.json()["remedy"]
    return answer.status_code


@FEW
@given(value=TEXTS | st.floats() | st.integers(), unit=TEXTS, point=TEXTS)
def test_any_reading_is_judged_or_refused(floor: Floor, value: Any, unit: str, point: str) -> None:
    reading = {"quantity": "battery_open_circuit_voltage", "value": value, "unit": unit, "point": point}
    for text in (reading, {"readings": [reading]}):
        ask(floor, "/readings/judge", json.dumps(text).encode(), "application/json")


@FEW
@given(TEXTS)
def test_any_complaint_gets_an_answer_or_a_refusal(floor: Floor, text: str) -> None:
    ask(floor, "/advice", json.dumps({"complaint": text}).encode(), "application/json")


@FEW
@given(st.lists(LINES | st.binary(max_size=60), max_size=5), st.sampled_from(["all", "report"]))
def test_any_file_is_taken_in_or_refused(floor: Floor, lines: list[bytes], mode: str) -> None:
    ask(floor, f"/import?mode={mode}", b"\n".join(lines) or b"\n", "application/x-ndjson")


@FEW
@given(
    JSON,
    st.sampled_from(
        ["/cases", "/members", "/trade/tests", "/trade/causes", "/hooks", "/visits", "/enrolments"]
    ),
)
def test_any_json_is_taken_or_refused(floor: Floor, body: Any, path: str) -> None:
    ask(floor, path, json.dumps(body).encode(), "application/json")
