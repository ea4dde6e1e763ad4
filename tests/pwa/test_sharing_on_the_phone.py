"""A closed case and the other shops of the service: looked at, shared, asked for, taken back."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import replace

import httpx
import pytest
from handset import Handset
from measures import overflow_px, small_targets, weak_text
from playwright.sync_api import expect
from workshop import BAYLORE, Workshop

Phone = Callable[..., Handset]
SAID = "heater fan only on four after rain, call 0664 123 45 67"
CAUSE, TITLE = "aircon.blower_resistor.connector", "Blower connector burnt"
OTHER_TOKEN = "manager-of-another-shop-of-the-browser-tests"


@pytest.fixture(scope="module")
def other_shop(workshop: Workshop) -> Iterator[httpx.Client]:
    """The manager of a second shop of the same service, which shares."""
    words = (
        "member",
        "add",
        "--name",
        "Ines",
        "--role",
        "manager",
        "--shop",
        "Lower Yard",
        "--token",
        OTHER_TOKEN,
    )
    env = {**os.environ, "BAYLORE_DATA": str(workshop.folder)}
    subprocess.run([BAYLORE, *words], env=env, check=True, capture_output=True, timeout=60)
    headers = {"Authorization": f"Bearer {OTHER_TOKEN}"}
    with httpx.Client(base_url=workshop.address, headers=headers, timeout=60) as api:
        api.patch("/api/shop", json={"shares": True}).raise_for_status()
        yield api


def found_by(other: httpx.Client) -> list[dict[str, object]]:
    """What the other shop is told of such a complaint."""
    asked = {"complaint": "heater fan works only on four after rain"}
    told: list[dict[str, object]] = (
        other.post("/api/advice/elsewhere", json=asked).raise_for_status().json()["cases"]
    )
    return told


def closed_case(workshop: Workshop) -> str:
    """A closed case of ours."""
    case = workshop.api.post("/api/cases", json={"complaint": SAID}).raise_for_status().json()["id"]
    ending = {"cause": CAUSE, "correction": "dried and sealed"}
    workshop.api.post(f"/api/cases/{case}/close", json=ending).raise_for_status()
    return str(case)


def test_a_case_is_looked_at_shared_found_elsewhere_and_taken_back(
    signed_in: Phone, workshop: Workshop, other_shop: httpx.Client
) -> None:
    workshop.api.patch("/api/shop", json={"shares": True}).raise_for_status()
    case = closed_case(workshop)
    phone = signed_in()
    phone.wait_until_in_step()
    phone.go(f"#/case/{case}")
    phone.page.get_by_role("button", name="See what they would see of it").click()
    expect(phone.page.get_by_text("Taken out of the words")).to_contain_text("0664 123 45 67")
    assert found_by(other_shop) == []
    phone.page.get_by_role("button", name="Share it as shown").click()
    expect(phone.page.get_by_text("They see it since")).to_be_visible()
    (row,) = found_by(other_shop)
    assert row["correction"] == "dried and sealed" and "0664" not in str(row)
    assert overflow_px(phone.page) <= 0
    assert small_targets(phone.page, 48) == [] and weak_text(phone.page, 7.0) == []
    phone.page.get_by_role("button", name="Take it back").click()
    expect(phone.page.get_by_role("button", name="Share it as shown")).to_be_visible()
    assert found_by(other_shop) == [] and phone.complaints == []


def test_what_another_shop_found_stands_beside_the_answer(
    signed_in: Phone, workshop: Workshop, other_shop: httpx.Client
) -> None:
    workshop.api.patch("/api/shop", json={"shares": True}).raise_for_status()
    theirs = closed_case(replace(workshop, api=other_shop))
    seen = other_shop.get(f"/api/cases/{theirs}/sharing").raise_for_status().json()["revision"]
    share = {"If-Match": f'"{seen}"'}
    other_shop.patch(f"/api/cases/{theirs}/sharing", json={"shared": True}, headers=share).raise_for_status()
    phone = signed_in()
    phone.wait_until_in_step()
    phone.ask("heater fan works only on four after rain")
    phone.page.get_by_role("button", name="What did other shops find?").click()
    card = phone.page.locator("section.bin", has_text="Found in other shops")
    expect(card).to_contain_text(TITLE)
    expect(card).to_contain_text("count for nothing")
    assert card.get_by_role("link").count() == 0 and phone.complaints == []
