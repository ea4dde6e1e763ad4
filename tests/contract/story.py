"""One job after another through every route, as a phone and an office would ask."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import uuid4

from httpx import Response
from tests.service.app_fixtures import CAR, COMPLAINT, PART, PNG, READING, TEST, Floor

from baylore_service.desk import alerts, shops

TRADE_LISTS = ("systems", "symptoms", "quantities", "tests", "causes", "cautions")
KEPT_ITEMS = 2
FANS = "cooling.fan_motor.worn"
FAULTS = {"cooling.fan_motor": "worn", "charging.battery": "weak"}
REPAIR = {"cause": "cooling.radiator.blocked", "result": "no change", "minutes": 20, "note": "fins cleaned"}
SKIP = {"test": "fan_command", "because": "no tool", "note": "lent out"}
OBJECTION = {"cause": "cooling.thermostat.stuck_closed", "because": "already renewed", "note": "in May"}
OWN_CAUSE = {
    "title": "Carpet joint corroded",
    "system": "body_elec",
    "symptoms": ["water_in_body"],
    "fix": "clean and seal the joint",
    "minutes": 45,
}
OWN_TEST = {
    "title": "Pull the carpet, feel the joint",
    "system": "body_elec",
    "minutes": 6,
    "points_at": ["own.carpet_joint_corroded"],
    "steps": ["Lift the sill trim", "Feel along the loom for wet or green"],
    "tools": ["torch"],
    "for_symptoms": ["water_in_body"],
    "note": "left side first",
}
SO_FAR = {
    "readings": [READING],
    "tests": [TEST],
    "repairs": [REPAIR],
    "skipped": [SKIP],
    "objections": [OBJECTION],
    "shows_when": ["hot"],
}


@dataclass(frozen=True)
class Exchange:
    """One request with its answer; the route has names in place of ids."""

    name: str
    route: str
    request: Any
    status: int
    answer: Any

    def as_json(self) -> dict[str, Any]:
        """What a file holds."""
        return {"route": self.route, "request": self.request, "status": self.status, "answer": self.answer}


class Teller:
    """Asks and remembers; `{names}` in a route are filled in from what is known."""

    def __init__(self, floor: Floor) -> None:
        self.floor = floor
        self.known: dict[str, str] = {}
        self.told: list[Exchange] = []

    def ask(self, name: str, route: str, body: Any = None, *, who: str = "manager", **options: Any) -> Any:
        """One exchange; its answer."""
        method, path = route.split()
        if body is not None and "content" not in options:
            options["json"] = body
        filled = path.format(**self.known).removeprefix("/api")
        answer = self.floor.ask(method, filled + options.pop("query", ""), who=who, **options)
        assert answer.status_code < 300 or name.startswith("problem"), answer.text
        self.told.append(Exchange(name, route, body, answer.status_code, readable(answer)))
        return self.told[-1].answer


def readable(answer: Response) -> Any:
    """An answer's body as a file can hold it: lists of the trade are cut short, pictures left out."""
    kind = answer.headers.get("content-type", "")
    if kind == "application/x-ndjson":
        return [json.loads(line) for line in answer.text.splitlines()]
    if "json" not in kind:
        return None
    body = answer.json()
    if "items" in body:
        body["items"] = body["items"][:KEPT_ITEMS]
    return body


def told(floor: Floor) -> tuple[Exchange, ...]:
    """The whole story."""
    teller = Teller(floor)
    for chapter in (past, work, ending, own, overview, people, moving):
        chapter(teller)
    return tuple(teller.told)


def past(teller: Teller) -> None:
    """Jobs of before, so that there is something to remember; not written down."""
    for n in range(6):
        car = CAR | {"model": "Linnet" if n < 4 else "Sarn"}
        tried = [
            {"component": "cooling.fan_motor", "source": "aftermarket", "price": 60, "result": "no change"},
            {"component": "cooling.fan_motor", "source": "maker", "price": 140, "result": "cured"},
        ]
        case = teller.floor.open_case(
            complaint=f"runs hot in traffic, fan dead, day {n}",
            vehicle=car,
            codes=["P0480"],
            tests=[{"test": "fan_drop", "outcome": "ok", "minutes": 4 + n}],
            parts=tried,
        )
        ending = {"cause": FANS, "labour": {"repair_min": 60}, "verification": "fan ran on command"}
        teller.floor.close_case(case["id"], **ending)


def work(teller: Teller) -> None:
    """A complaint, advice, a case and its steps."""
    asked = {"complaint": "ran hot in trafic, fan dead", "vehicle": CAR, "codes": ["P0480"], "limit": 3}
    teller.ask("advice", "POST /api/advice", asked | SO_FAR, who="technician")
    teller.ask("advice-call", "POST /api/advice", {"complaint": "won't start sometimes"}, who="technician")
    teller.ask("readings-judge", "POST /api/readings/judge", {"readings": [READING]}, who="technician")
    body = {"complaint": COMPLAINT, "vehicle": CAR, "codes": ["B1342"], "opened": "2026-03-11T09:20:00Z"}
    case = teller.ask("case-open", "POST /api/cases", body, who="technician")
    teller.known["case_id"] = case["id"]
    path = "/api/cases/{case_id}"
    teller.ask("case-reading", f"POST {path}/readings", READING, who="technician")
    case = teller.ask("case-test", f"POST {path}/tests", TEST, who="technician")
    case = teller.ask("case-part", f"POST {path}/parts", PART, who="technician")
    teller.known["step_id"] = case["parts"][0]["id"]
    teller.ask(
        "case-part-result", f"PATCH {path}/parts/{{step_id}}", {"result": "partly", "note": "lamp out"}
    )
    png = {"content": PNG, "headers": {"Content-Type": "image/png"}, "query": "?note=third%20pin%20green"}
    case = teller.ask("case-photo", f"POST {path}/photos", None, who="technician", **png)
    teller.known["photo_id"] = case["photos"][0]["id"]
    teller.ask("photo", f"GET {path}/photos/{{photo_id}}")
    case = said(teller)
    body = {"vehicle": {"odometer": {"value": 141200, "unit": "km"}}, "title": "Rear washer runs by itself"}
    body |= {"shows_when": ["rain"]}
    tag = {"If-Match": f'"{case["revision"]}"'}
    case = teller.ask("case-patch", f"PATCH {path}", body, who="technician", headers=tag)
    teller.known["step_id"] = case["tests"][0]["id"]
    teller.ask("case-step-undo", f"DELETE {path}/steps/{{step_id}}", who="technician")
    teller.ask("case-advice", f"GET {path}/advice", who="technician", query="?limit=2")


def said(teller: Teller) -> Any:
    """What was repaired, skipped, doubted and corrected; the case."""
    path = "/api/cases/{case_id}"
    case = teller.ask("case-repair", f"POST {path}/repairs", REPAIR, who="technician")
    teller.ask("case-skip", f"POST {path}/skips", SKIP, who="technician")
    teller.ask("case-objection", f"POST {path}/objections", OBJECTION, who="technician")
    for name, kind, change in (
        ("case-repair-patch", "repairs", {"result": "partly", "note": "better when cold"}),
        ("case-reading-patch", "readings", {"value": 12.2, "point": "jump posts"}),
        ("case-test-patch", "tests", {"minutes": 6, "note": "all fuses"}),
    ):
        teller.known["step_id"] = case[kind][0]["id"]
        case = teller.ask(name, f"PATCH {path}/{kind}/{{step_id}}", change)
    return case


def ending(teller: Teller) -> None:
    """The case closes, comes back, and a mistaken one is deleted."""
    path = "/api/cases/{case_id}"
    body = {
        "own_cause": {"title": "Loom shorts behind the heated screen", "system": "body_elec"},
        "correction": {"action": "repair", "component": None, "text": "loom taped away from the edge"},
        "verification": "washer stays off for ten minutes",
        "readings": [READING | {"value": 12.6, "when": "after"}],
        "labour": {"repair_min": 45, "rate_per_hour": 90},
    }
    car = CAR | {"odometer": {"value": 141203, "unit": "km"}}
    twin = teller.floor.open_case(complaint=COMPLAINT, vehicle=car, opened="2026-03-11T10:00:00Z")
    teller.ask("case-close", f"POST {path}/close", body, who="technician")
    joining(teller, path, twin["id"])
    sharing(teller, path)
    back = teller.ask("case-reopen", f"POST {path}/reopen", {"complaint": "same again in the rain"})
    teller.ask("case", f"GET {path}", who="technician")
    teller.known["case_id"] = back["id"]
    teller.ask("case-delete", f"DELETE {path}", headers={"If-Match": f'"{back["revision"]}"'})


def sharing(teller: Teller, path: str) -> None:
    """The closed case as other shops would see it: shared, asked for, taken back."""
    for who in ("manager", "stranger"):
        teller.floor.ask("PATCH", "/shop", json={"shares": True}, who=who)
    seen = teller.ask("case-sharing", f"GET {path}/sharing", who="technician")
    tag = {"If-Match": f'"{seen["revision"]}"'}
    teller.ask("case-share", f"PATCH {path}/sharing", {"shared": True}, headers=tag)
    asked = {"complaint": COMPLAINT, "vehicle": CAR}
    teller.ask("advice-elsewhere", "POST /api/advice/elsewhere", asked, who="stranger")
    for who in ("manager", "stranger"):
        teller.floor.ask("PATCH", "/shop", json={"shares": False}, who=who)


def joining(teller: Teller, path: str, other: str) -> None:
    """Another record of the same visit: joined, split off again, kept apart."""
    first = teller.known["case_id"]
    teller.ask("case-alike", f"GET {path}/alike", who="technician")
    teller.ask("case-join", f"POST {path}/join", {"other": other}, who="technician")
    teller.known["case_id"] = other
    teller.ask("case-split", f"POST {path}/split", {"other": first}, who="technician")
    teller.known["case_id"] = first
    teller.ask("case-apart", f"POST {path}/apart", {"other": other}, who="technician")


def own(teller: Teller) -> None:
    """The shop adds to the lists, thinks better of some of it, and looks at its tuning."""
    cause = teller.ask("own-cause-add", "POST /api/trade/causes", OWN_CAUSE, who="technician")
    test = teller.ask("own-test-add", "POST /api/trade/tests", OWN_TEST, who="technician")
    teller.known |= {"test_id": test["id"], "cause_id": cause["id"]}
    teller.ask("own-test-patch", "PATCH /api/trade/tests/{test_id}", {"minutes": 7})
    teller.ask("own-cause-patch", "PATCH /api/trade/causes/{cause_id}", {"fix": "clean, seal, clip up"})
    teller.ask("own-test-delete", "DELETE /api/trade/tests/{test_id}")
    teller.ask("own-cause-delete", "DELETE /api/trade/causes/{cause_id}")
    word = {"word": "Tin worm", "means": "rust"}
    teller.ask("own-word-add", "POST /api/trade/words", word, who="technician")
    teller.ask("own-words", "GET /api/trade/words")
    teller.known["word"] = "tin worm"
    teller.ask("own-word-patch", "PATCH /api/trade/words/{word}", {"means": "rust"})
    teller.ask("own-word-delete", "DELETE /api/trade/words/{word}")
    teller.floor.post("/trade/causes", OWN_CAUSE)
    teller.floor.post("/trade/tests", OWN_TEST)
    teller.floor.ask("PATCH", "/trade/tests/crank_drop_neg", json={"minutes": 4})
    teller.ask("tuning", "GET /api/tuning")


def overview(teller: Teller) -> None:
    """What the office and the phones read."""
    teller.ask("cases", "GET /api/cases", query="?limit=2&state=closed")
    teller.ask("changes", "GET /api/changes", query="?after=0&limit=5")
    teller.ask("recurrences", "GET /api/recurrences", query="?by=model,system")
    car = "model=Tarrow%20Linnet"
    teller.ask("recurrences-table", "GET /api/recurrences/table", query="?by=model,system")
    teller.ask("recurrences-months", "GET /api/recurrences/months", query=f"?{car}&system=cooling")
    teller.ask("recurrences-life", "GET /api/recurrences/life", query=f"?{car}&component=cooling.fan_motor")
    counted = {"month": "2026-03", "make": "Tarrow", "model": "Linnet", "count": 40}
    teller.ask("visits-count", "POST /api/visits", counted)
    teller.ask("visits", "GET /api/visits")
    alerting(teller)
    caring(teller)
    reading(teller, car)
    teller.ask("parts", "GET /api/parts", query="?component=cooling.fan_motor")
    teller.ask("parts-table", "GET /api/parts/table", query="?component=cooling.fan_motor")
    teller.known["part"] = "shop"
    teller.ask("reasoning-shop", "GET /api/reasoning/{part}")
    for name in TRADE_LISTS:
        teller.known["name"] = name
        teller.ask(f"trade-{name}", "GET /api/trade/{name}")
    bad = {"complaint": COMPLAINT, "readings": [READING | {"unit": "km"}]}
    teller.ask("problem", "POST /api/cases", bad)


def reading(teller: Teller, car: str) -> None:
    """What the office reads."""
    teller.ask("watch", "GET /api/watch", who="technician", query=f"?{car}")
    teller.ask("office", "GET /api/office")
    teller.ask("office-table", "GET /api/office/table", query="?of=given-away")
    teller.ask("shelf", "GET /api/shelf", query="?lead_days=5")
    teller.ask("memory", "GET /api/memory", query="?ask=3")
    teller.ask("season", "GET /api/season", query="?lead_days=5")
    teller.ask("report", "GET /api/report")


def caring(teller: Teller) -> None:
    """A car is asked after, and an author for facts."""
    path, kind = "/api/cases/{case_id}", {"Content-Type": "application/x-ndjson"}
    when = (datetime.now(UTC) - timedelta(days=20)).isoformat()
    case = {"kind": "case", "id": str(uuid4()), "complaint": COMPLAINT, "vehicle": CAR, "state": "closed"}
    line = case | {"cause": "cooling.fan_motor.worn", "opened": when, "closed": when, "updated": when}
    teller.floor.ask("POST", "/import", content=json.dumps(line), headers=kind, who="manager")
    teller.known["case_id"] = case["id"]
    teller.ask("followups", "GET /api/followups", who="technician")
    teller.ask("case-followed", f"POST {path}/followed", {"outcome": "cured"}, who="technician")
    mine = teller.floor.open_case(complaint="lacks much")["id"]
    teller.floor.close_case(mine)
    teller.known["case_id"] = mine
    teller.ask("case-asks", f"POST {path}/asks", {"facts": ["diagnosis minutes", "verification"]})
    teller.ask("asks", "GET /api/asks", who="technician")
    teller.ask("case-asks-unknown", f"POST {path}/asks/unknown", {"fact": "verification"}, who="technician")


def alerting(teller: Teller) -> None:
    """What the manager hears of unasked."""
    bad = {"component": "cooling.fan_motor", "source": "aftermarket", "price": 60, "result": "failed later"}
    good = {"component": "charging.battery", "source": "maker", "price": 90, "result": "cured"}
    for part in [good] * 12 + [bad] * 4:
        case = teller.floor.open_case(complaint=f"for counting, {part['source']}", parts=[part])
        teller.floor.close_case(case["id"], cause=f"{part['component']}.{FAULTS[part['component']]}")
    house = teller.floor.house
    for shop in shops.list_shops(house):
        alerts.look(house, shop)
    found = teller.ask("alerts", "GET /api/alerts")
    teller.known["alert_id"] = found["alerts"][0]["id"]
    body = {"state": "muted", "reason": "the batch is sent back"}
    teller.ask("alert-settle", "PATCH /api/alerts/{alert_id}", body)
    hook = teller.ask("hook-add", "POST /api/hooks", {"url": "https://office.example/alerts"})
    teller.known["hook_id"] = hook["id"]
    teller.ask("hooks", "GET /api/hooks")
    teller.ask("hook-test", "POST /api/hooks/{hook_id}/test")
    teller.ask("hook-deliveries", "GET /api/hooks/{hook_id}/deliveries")
    teller.ask("hook-remove", "DELETE /api/hooks/{hook_id}")


def people(teller: Teller) -> None:
    """The shop, its members and devices."""
    teller.ask("me", "GET /api/me", who="technician")
    teller.ask("shop", "GET /api/shop", who="technician")
    right = "refrigerant certificate"
    rules = [{"right": right, "needed_for": ["aircon"]}]
    body = {"rate_per_hour": 98.5, "lacks": ["scope"], "rights": rules}
    teller.ask("shop-patch", "PATCH /api/shop", body)
    body = {"name": "Ada", "role": "technician", "skill": 2, "rights": [right]}
    member = teller.ask("member-add", "POST /api/members", body)
    teller.known["member_id"] = member["id"]
    teller.ask("member-patch", "PATCH /api/members/{member_id}", {"skill": 3, "rights": [right]})
    teller.ask("members", "GET /api/members")
    made = teller.ask("enrolment", "POST /api/enrolments", {"member": member["id"]})
    joined = teller.ask("device-join", "POST /api/devices", {"code": made["code"], "name": "Ada's phone"})
    teller.ask("token-renew", "POST /api/me/token")
    teller.ask("devices", "GET /api/devices")
    body = {"also": ["Adah"], "preview": True}
    teller.ask("member-leave", "POST /api/members/{member_id}/leave", body)
    teller.ask("trail", "GET /api/trail", query="?limit=3")
    teller.known["device_id"] = joined["device"]["id"]
    teller.ask("device-revoke", "DELETE /api/devices/{device_id}")


def moving(teller: Teller) -> None:
    """The memory moves out and in."""
    lines = teller.ask("export", "GET /api/export")
    body = "\n".join(json.dumps(line) for line in lines).encode()
    kind = {"Content-Type": "application/x-ndjson"}
    teller.ask("import", "POST /api/import", lines, content=body, headers=kind, query="?mode=report")
