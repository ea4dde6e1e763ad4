"""The log and the figures hold ids, never what was said, who said it, or what opens a door."""

from __future__ import annotations

import json
from itertools import count
from typing import Any

import pytest
from tests.contract import story
from tests.service.app_fixtures import TOKEN, Floor
from tests.service.test_routes_people import enrol, join

MARK = "Wugglesnatch"
FREE = {"complaint", "note", "title", "text", "verification", "point", "name", "fix", "steps"}


def marked(value: Any, name: str = "") -> Any:
    """A body with a mark in every free text."""
    if isinstance(value, dict):
        return {key: marked(each, key) for key, each in value.items()}
    if isinstance(value, list):
        return [marked(each, name) for each in value]
    return f"{value} {MARK}" if isinstance(value, str) and name in FREE else value


def test_a_whole_job_leaves_no_text_name_or_secret_in_the_log_or_the_figures(
    floor: Floor, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = count()

    def ask(self: Floor, method: str, path: str, *, who: str = "technician", **options: Any) -> Any:
        next(asked)
        headers = self.as_(who) | options.pop("headers", {})
        if isinstance(options.get("json"), dict):
            options["json"] = marked(options["json"])
        return self.client.request(method, f"/api{path}", headers=headers, **options)

    monkeypatch.setattr(Floor, "ask", ask)
    teller = story.Teller(floor)
    for chapter in (story.work, story.ending):
        chapter(teller)
    made = enrol(floor)
    token = join(floor, made["code"], f"phone {MARK}").json()["token"]
    join(floor, "wrong-code-of-somebody", MARK)
    floor.client.get("/api/me", headers={"Authorization": f"Bearer wrong-{MARK}"})
    floor.client.get(f"/api/{MARK}?{MARK}={MARK}")
    floor.get(f"/cases?text={MARK}")
    hook = floor.post("/hooks", {"url": f"https://{MARK.lower()}.example/x"}, who="manager").json()
    out = capsys.readouterr()
    logged = out.out + out.err
    assert logged.count('"event": "request"') > next(asked) > 20
    assert MARK in floor.get("/export", who="manager").text
    figures = floor.client.get("/metrics").text
    for secret in (MARK, MARK.lower(), "Ivo", "Mara", made["code"], token, hook["secret"], *TOKEN.values()):
        assert secret not in logged and secret not in figures


def test_each_refusal_is_logged_and_counted_with_its_reason(
    floor: Floor, capsys: pytest.CaptureFixture[str]
) -> None:
    floor.client.get("/api/me", headers={"Authorization": "Bearer nobodys"})
    join(floor, "wrong-code-of-somebody", "phone")
    floor.get("/members")
    floor.get("/cases/5b7f4c1e-0000-4000-8000-000000000000")
    floor.post("/cases", {"complaint": 7})
    floor.get("/me")
    lines = [json.loads(line) for line in capsys.readouterr().out.splitlines() if '"request"' in line]
    reasons = ["not-signed-in", "code-refused", "wrong-role", "not-found", "value-refused", None]
    assert [line.get("refused") for line in lines[-6:]] == reasons
    figures = floor.client.get("/metrics").text
    for reason in reasons[:-1]:
        assert f'baylore_refusals_total{{kind="{reason}"}} 1.0' in figures


def test_who_read_which_case_is_logged_by_id_and_no_word_of_an_address(
    floor: Floor, capsys: pytest.CaptureFixture[str]
) -> None:
    case, me = floor.open_case(), floor.get("/me").json()
    floor.get(f"/cases/{case['id']}")
    read = json.loads(capsys.readouterr().out.splitlines()[-1])
    assert (read["method"], read["case_id"], read["member"]) == ("GET", case["id"], me["member"]["id"])
    floor.ask("DELETE", f"/trade/words/{MARK.lower()}")
    assert MARK.lower() not in capsys.readouterr().out


def test_an_error_nobody_foresaw_is_logged_without_the_values_it_failed_on(
    floor: Floor, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object, **__: object) -> None:
        text = MARK
        raise RuntimeError(f"failed in {len(text)} signs")

    monkeypatch.setattr("baylore_service.desk.cases.open_case", fail)
    monkeypatch.setattr("baylore_service.routes.cases.desk.open_case", fail)
    answer = floor.post("/cases", {"complaint": MARK})
    assert answer.status_code == 500 and MARK not in answer.text and "RuntimeError" not in answer.text
    logged = capsys.readouterr().out
    assert '"event": "unexpected"' in logged and "RuntimeError" in logged and MARK not in logged
