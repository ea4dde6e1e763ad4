"""Two shops full of things of every kind, each with marks of its own, and the ids of all of them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from httpx import Response
from tests.service.app_fixtures import PNG, READING, TEST, Floor

from baylore_kb.alerts import Alert
from baylore_service.desk import members, messages, shops
from baylore_service.desk.house import House
from baylore_service.store import alerts
from baylore_service.store.records import Actor, Role, Shop
from baylore_service.store.records.office import KeptAlert

Names = dict[str, str]
ROLES: tuple[Role, ...] = ("technician", "manager")
MARKS = {"here": "Quillfeather", "there": "Zebrafish"}


@dataclass(frozen=True)
class Side:
    """A shop, the tokens of its two members' phones, and the ids of what it has."""

    shop: Shop
    tokens: dict[str, str]
    mark: str
    names: Names


def two_shops(house: House) -> dict[str, Side]:
    """Both shops with their people, empty otherwise."""
    return {where: people(house, mark, where) for where, mark in MARKS.items()}


def people(house: House, mark: str, where: str) -> Side:
    """A shop with a manager, a technician, and a phone of each."""
    shop = shops.create_shop(house, name=f"{mark} Garage")
    tokens = {}
    for role in ROLES:
        member = members.add_member(house, shops.console(shop), name=f"{mark} {role}", role=role)
        tokens[role] = f"token-of-the-{role}-{where}-000000000000"
        members.issue_token(house, member.id, f"{mark} {role} phone", tokens[role])
    return Side(shop, tokens, mark, {})


def send(floor: Floor, token: str, method: str, path: str, **options: Any) -> Response:
    """One request of a phone, with an id of its own that is always the same."""
    headers = {"Authorization": f"Bearer {token}", "X-Request-Id": "matrix"} | options.pop("headers", {})
    return floor.client.request(method, path, headers=headers, **options)


def fill(floor: Floor, side: Side) -> None:
    """Put one thing of each kind in and remember its id."""
    made = _Maker(floor, side)
    names, mark = side.names, side.mark.lower()
    for name, path, body in things(side.mark):
        names[name] = made(path, body)["id"]
    names["word"] = made("/trade/words", {"word": f"{mark}worm", "means": "rust"})["id"]
    case = made(f"/cases/{names['case_id']}/parts", {"component": "charging.battery", "source": "maker"})
    for path, body in steps():
        case = made(f"/cases/{names['case_id']}/{path}", body)
    names |= {f"{kind}_step": case[kind][0]["id"] for kind in ("parts", "tests", "readings", "repairs")}
    png = {"content": PNG, "headers": {"Content-Type": "image/png"}}
    answer = send(floor, side.tokens["technician"], "POST", f"/api/cases/{names['case_id']}/photos", **png)
    names["photo_id"] = answer.json()["photos"][0]["id"]
    ending = {"cause": "cooling.fan_motor.worn", "correction": f"{side.mark} replaced it"}
    made(f"/cases/{names['closed_id']}/close", ending, status=200)
    names["model"] = f"{side.mark} Linnet"
    in_the_store(floor.house, side)


def things(mark: str) -> Iterator[tuple[str, str, Any]]:
    """What is added by a single request: the name of its id, where, and what."""
    car = {"make": mark, "model": "Linnet", "year": 2011}
    for name in ("case_id", "other_id", "closed_id"):
        yield (
            name,
            "/cases",
            {"complaint": f"{mark} noise {name}, fan dead", "vehicle": car, "codes": ["P0480"]},
        )
    cause = {"title": f"{mark} joint corroded", "system": "body_elec", "symptoms": ["water_in_body"]}
    yield "cause_id", "/trade/causes", cause | {"fix": "seal it", "minutes": 45}
    test = {"title": f"{mark} carpet pulled", "system": "body_elec", "minutes": 6}
    yield "test_id", "/trade/tests", test | {"steps": ["lift it"], "points_at": ["cooling.fan_motor.worn"]}


def steps() -> Iterator[tuple[str, Any]]:
    """What was done on a case."""
    yield "tests", TEST
    yield "readings", READING
    yield "repairs", {"cause": "cooling.radiator.blocked", "result": "no change", "minutes": 20}


def in_the_store(house: House, side: Side) -> None:
    """What a manager has: an alert, an address, members and their phones."""
    boss = members.who(house, side.tokens["manager"])
    tech = members.who(house, side.tokens["technician"])
    now = house.now()
    raised = Alert("signal", side.mark, side.mark, f"{side.mark} fails", 3, True, {"cases": 3.0}, {}, ())
    with house.store.write(side.shop.id) as work:
        alerts.put(work, side.shop.id, KeptAlert(str(uuid4()), raised, "open", now, now))
        (kept,) = alerts.every(work, side.shop.id)
    hook = messages.add_hook(house, boss, f"https://{side.mark.lower()}.example/alerts")
    side.names.update(alert_id=kept.id, hook_id=hook.id)
    side.names.update(member_id=tech.member.id, boss_id=boss.member.id)
    side.names.update(device_id=spare(house, tech), boss_device=boss.device.id)


def spare(house: House, actor: Actor) -> str:
    """Another phone of the same member."""
    token = members.issue_token(house, actor.member.id, f"{actor.member.name} spare")
    return members.who(house, token).device.id


class _Maker:
    def __init__(self, floor: Floor, side: Side) -> None:
        self.floor, self.side = floor, side

    def __call__(self, path: str, body: Any, *, status: int = 201) -> Any:
        token = self.side.tokens["technician"]
        answer = send(self.floor, token, "POST", f"/api{path}", json=body)
        assert answer.status_code == status, answer.text
        return answer.json()
