"""What every route answers to whom: the one table the matrix test holds the service to."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from tests.service.app_fixtures import PART, PNG, READING, TEST

Sent = dict[str, Any]
CASE = "/api/cases/{case_id}"
TAG = {"If-Match": "*"}
REPAIR = {"cause": "cooling.radiator.blocked", "result": "no change", "minutes": 20}
SKIP = {"test": "fan_command", "because": "no tool"}
NEW_CAUSE = {
    "title": "It is bent",
    "system": "body_elec",
    "symptoms": ["water_in_body"],
    "fix": "x",
    "minutes": 9,
}
NEW_TEST = {"title": "Feel it", "system": "body_elec", "minutes": 6, "steps": ["x"]}
NEW_TEST |= {"points_at": ["cooling.fan_motor.worn"]}
LINES = b'{"type":"nothing"}'
ANY, OFFICE = (200, 200), (403, 200)
PICTURE = {"content": PNG, "headers": {"Content-Type": "image/png"}}


@dataclass(frozen=True)
class Line:
    """What a technician and a manager get for their own shop's things, and for another shop's.

    Names in braces, in the route and in what is sent, stand for ids; those in SHARED are no shop's own.
    `ids` says which id stands for a name, where that has another name. `open` needs no token.
    `foreign` is the manager's answer for another shop's id, `foreign_technician` the technician's.
    """

    own: tuple[int, int]
    sent: Sent = field(default_factory=dict)
    foreign: int = 404
    open: bool = False
    ids: dict[str, str] = field(default_factory=dict)

    @property
    def foreign_technician(self) -> int:
        """Whoever may not do it at all learns nothing of what there is."""
        return 403 if self.own[0] == 403 else self.foreign


def body(value: Any, **more: Any) -> Sent:
    """What is sent as JSON."""
    return {"json": value} | more


def asked(text: str) -> Sent:
    """What stands behind the question mark."""
    return {"params": dict(part.split("=") for part in text.split("&"))}


def step(kind: str) -> dict[str, str]:
    """The step of a kind."""
    return {"step_id": f"{kind}_step"}


MADE, MADE_OFFICE, GONE_OFFICE = (201, 201), (403, 201), (403, 204)
TABLE: dict[str, Line] = {
    "POST /api/advice": Line(ANY, body({"complaint": "fan dead"})),
    "POST /api/readings/judge": Line(ANY, body({"readings": [READING]})),
    "GET /api/cases": Line(ANY),
    "POST /api/cases": Line(MADE, body({"complaint": "fan dead"})),
    f"GET {CASE}": Line(ANY),
    f"GET {CASE}/advice": Line(ANY),
    f"GET {CASE}/alike": Line(ANY),
    f"PATCH {CASE}": Line(ANY, body({"title": "x"}, headers=TAG)),
    f"DELETE {CASE}": Line(GONE_OFFICE, {"headers": TAG}),
    f"POST {CASE}/objections": Line(MADE, body({"cause": REPAIR["cause"], "because": "already renewed"})),
    f"POST {CASE}/parts": Line(MADE, body(PART)),
    f"POST {CASE}/readings": Line(MADE, body(READING)),
    f"POST {CASE}/repairs": Line(MADE, body(REPAIR)),
    f"POST {CASE}/skips": Line(MADE, body(SKIP)),
    f"POST {CASE}/tests": Line(MADE, body(TEST)),
    f"PATCH {CASE}/parts/{{step_id}}": Line(ANY, body({"note": "x"}), ids=step("parts")),
    f"PATCH {CASE}/readings/{{step_id}}": Line(ANY, body({"point": "x"}), ids=step("readings")),
    f"PATCH {CASE}/repairs/{{step_id}}": Line(ANY, body({"note": "x"}), ids=step("repairs")),
    f"PATCH {CASE}/tests/{{step_id}}": Line(ANY, body({"note": "x"}), ids=step("tests")),
    f"DELETE {CASE}/steps/{{step_id}}": Line(ANY, ids=step("tests")),
    f"POST {CASE}/close": Line(ANY, body({"unresolved": "declined"})),
    f"POST {CASE}/reopen": Line(MADE, body({"complaint": "again"}), ids={"case_id": "closed_id"}),
    f"POST {CASE}/join": Line(ANY, body({"other": "{other_id}"})),
    f"POST {CASE}/apart": Line(ANY, body({"other": "{other_id}"})),
    f"POST {CASE}/split": Line((422, 422), body({"other": "{other_id}"})),
    f"POST {CASE}/photos": Line(MADE, PICTURE),
    f"GET {CASE}/photos/{{photo_id}}": Line(ANY),
    "GET /api/trade/words": Line(ANY),
    "POST /api/trade/words": Line(MADE, body({"word": "bimble"})),
    "PATCH /api/trade/words/{word}": Line(ANY, body({"means": "corrosion"})),
    "DELETE /api/trade/words/{word}": Line((204, 204)),
    "POST /api/trade/tests": Line(MADE, body(NEW_TEST)),
    "PATCH /api/trade/tests/{test_id}": Line(ANY, body({"minutes": 7})),
    "DELETE /api/trade/tests/{test_id}": Line(GONE_OFFICE),
    "POST /api/trade/causes": Line(MADE, body(NEW_CAUSE)),
    "PATCH /api/trade/causes/{cause_id}": Line(ANY, body({"fix": "x"})),
    "DELETE /api/trade/causes/{cause_id}": Line(GONE_OFFICE),
    "GET /api/changes": Line(ANY),
    "GET /api/reasoning/{part}": Line(ANY),
    "GET /api/trade/{name}": Line(ANY),
    "GET /api/tuning": Line(OFFICE),
    "GET /api/visits": Line(OFFICE),
    "POST /api/visits": Line(
        OFFICE, body({"month": "2026-03", "make": "Tarrow", "model": "Linnet", "count": 4})
    ),
    "GET /api/recurrences": Line(OFFICE),
    "GET /api/recurrences/life": Line(
        OFFICE, asked("model={model}&component=cooling.fan_motor"), foreign=200
    ),
    "GET /api/recurrences/months": Line(OFFICE, asked("model={model}&system=cooling"), foreign=422),
    "GET /api/recurrences/table": Line(OFFICE),
    "GET /api/parts": Line(ANY),
    "GET /api/parts/table": Line(ANY),
    "GET /api/hooks": Line(OFFICE),
    "POST /api/hooks": Line(MADE_OFFICE, body({"url": "https://office.example/x"})),
    "DELETE /api/hooks/{hook_id}": Line(GONE_OFFICE),
    "GET /api/hooks/{hook_id}/deliveries": Line(OFFICE),
    "POST /api/hooks/{hook_id}/test": Line(OFFICE),
    "GET /api/followups": Line(ANY),
    f"POST {CASE}/followed": Line(ANY, body({"outcome": "not reached"}), ids={"case_id": "closed_id"}),
    "GET /api/asks": Line(ANY),
    f"POST {CASE}/asks": Line(OFFICE, body({}), ids={"case_id": "closed_id"}),
    f"POST {CASE}/asks/unknown": Line((422, 422), body({"fact": "model"})),
    "GET /api/season": Line(OFFICE),
    "GET /api/alerts": Line(OFFICE),
    "PATCH /api/alerts/{alert_id}": Line(OFFICE, body({"state": "acknowledged"})),
    "GET /api/memory": Line(OFFICE, asked("ask=1")),
    "GET /api/office": Line(OFFICE),
    "GET /api/office/table": Line(OFFICE, asked("of=cures")),
    "GET /api/report": Line(OFFICE),
    "GET /api/shelf": Line(OFFICE),
    "GET /api/watch": Line(ANY, asked("model={model}"), foreign=200),
    "GET /api/shop": Line(ANY),
    "PATCH /api/shop": Line(OFFICE, body({"rate_per_hour": 90})),
    "GET /api/me": Line(ANY),
    "POST /api/me/token": Line(MADE),
    "GET /api/trail": Line(OFFICE),
    "GET /api/members": Line(OFFICE),
    "POST /api/members": Line(MADE_OFFICE, body({"name": "Ada", "role": "technician"})),
    "PATCH /api/members/{member_id}": Line(OFFICE, body({"skill": 2})),
    "POST /api/members/{member_id}/leave": Line(OFFICE, body({})),
    "POST /api/enrolments": Line(MADE_OFFICE, body({"member": "{member_id}"})),
    "GET /api/devices": Line(ANY),
    "POST /api/devices": Line((403, 403), body({"code": "not-a-code-0123456", "name": "x"}), open=True),
    "DELETE /api/devices/{device_id}": Line((204, 204)),
    f"GET {CASE}/sharing": Line(ANY, ids={"case_id": "closed_id"}),
    f"PATCH {CASE}/sharing": Line(ANY, body({"shared": True}, headers=TAG), ids={"case_id": "closed_id"}),
    "POST /api/advice/elsewhere": Line(ANY, body({"complaint": "fan dead"})),
    "GET /api/export": Line(OFFICE),
    "POST /api/import": Line(
        (403, 422), {"content": LINES, "headers": {"Content-Type": "application/x-ndjson"}}
    ),
}
# Not a shop's own, so another shop's is no other.
SHARED = {"name": "systems", "part": "shop"}
