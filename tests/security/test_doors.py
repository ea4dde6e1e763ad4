"""Whoever runs a shop is told, without names, when somebody may come in who could not before."""

from __future__ import annotations

import json
from dataclasses import replace
from typing import Any
from unittest.mock import patch

from tests.service.app_fixtures import Floor
from tests.service.test_routes_people import enrol, join

from baylore_service.desk import messages
from baylore_service.store import deliveries


def on_their_way(floor: Floor) -> list[dict[str, Any]]:
    """What was put on its way to any address, oldest first."""
    with floor.house.store.read() as work:
        return [json.loads(each.body) for each in deliveries.due(work, floor.house.now())]


def hooked(floor: Floor) -> str:
    """An address of the shop; its id."""
    made = floor.post("/hooks", {"url": "https://office.example/x"}, who="manager")
    return str(made.json()["id"])


def test_a_phone_a_manager_and_the_whole_memory_are_told_without_a_name(floor: Floor) -> None:
    hooked(floor)
    device = join(floor, enrol(floor)["code"], "Ivo's new phone").json()["device"]["id"]
    floor.ask("DELETE", f"/devices/{device}", who="manager")
    ivo = floor.get("/me").json()["member"]["id"]
    floor.ask("PATCH", f"/members/{ivo}", json={"role": "manager"}, who="manager")
    floor.get("/export", who="manager")
    told = on_their_way(floor)
    assert [each["title"] for each in told] == [
        "A phone was signed in",
        "A phone was locked out",
        "Somebody was made a manager",
        "The whole memory was taken out as a file",
    ]
    assert {each["event"] for each in told} == {"door"}
    assert "Ivo" not in str(told) and "Mara" not in str(told)


def test_what_opens_no_door_is_told_to_nobody(floor: Floor) -> None:
    hooked(floor)
    floor.open_case()
    join(floor, "wrong-code-of-somebody", "phone")
    ivo = floor.get("/me").json()["member"]["id"]
    floor.ask("PATCH", f"/members/{ivo}", json={"skill": 2}, who="manager")
    assert on_their_way(floor) == []


def test_it_goes_by_mail_too_where_mail_is_set(floor: Floor) -> None:
    house = floor.house
    house.settings = replace(house.settings, smtp_host="mail.example", smtp_to="office@shop.example")
    join(floor, enrol(floor)["code"], "phone")
    with patch.object(messages, "mail") as sent:
        assert messages.send_due(house) == 1
    assert sent.call_args.kwargs["subject"].endswith("A phone was signed in")
    assert on_their_way(floor) == []
