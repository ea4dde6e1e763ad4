"""The manager takes a member's name off everything, and reads who changed what."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest
from handset import Handset
from measures import overflow_px, small_targets, weak_text
from playwright.sync_api import Locator, expect
from workshop import Workshop

Phone = Callable[..., Handset]
NAME = "Quillon Marsh"
SAID = "hums at 60, Quillon heard it, so did QM"


@pytest.fixture
def gone(workshop: Workshop) -> Iterator[str]:
    """A case that somebody opened who is about to leave; its id."""
    added = workshop.api.post("/api/members", json={"name": NAME, "role": "technician"}).raise_for_status()
    enrolment = {"member": added.json()["id"]}
    code = workshop.api.post("/api/enrolments", json=enrolment).raise_for_status().json()["code"]
    joined = workshop.api.post("/api/devices", json={"code": code, "name": "Marsh's phone"}).raise_for_status()
    words = {"complaint": f"{SAID}, ask {NAME}"}
    theirs = {"Authorization": f"Bearer {joined.json()['token']}"}
    opened = workshop.api.post("/api/cases", json=words, headers=theirs).raise_for_status()
    yield str(opened.json()["id"])
    workshop.api.post(f"/api/members/{enrolment['member']}/leave", json={}).raise_for_status()


def slip_of(phone: Handset) -> Locator:
    """What the shop's screen says of the member, unfolded."""
    phone.go("#/shop")
    slip = phone.page.locator(".slip", has=phone.page.get_by_text(NAME, exact=True))
    slip.get_by_text(phone.says("people.takeOff")).click()
    return slip


@pytest.mark.parametrize("locale", ["en-US", "es-ES"])
def test_a_name_is_looked_up_first_and_taken_off_by_a_second_tap(
    signed_in: Phone, workshop: Workshop, gone: str, locale: str
) -> None:
    phone = signed_in("manager", locale=locale)
    slip = slip_of(phone)
    slip.get_by_label(phone.says("people.otherNames")).fill("Quillon, QM")
    expect(slip.get_by_role("button", name=phone.says("people.takeOff"))).to_have_count(0)
    slip.get_by_role("button", name=phone.says("people.lookFirst")).click()
    expect(slip.locator(f"a[href='#/case/{gone}']")).to_contain_text(SAID)
    slip.get_by_role("button", name=phone.says("people.takeOff")).click()
    expect(slip.get_by_role("group", name=NAME)).to_be_visible()
    assert NAME in workshop.api.get(f"/api/cases/{gone}").text
    assert overflow_px(phone.page) <= 0
    assert small_targets(phone.page, 48) == [] and weak_text(phone.page, 7.0) == []
    slip.get_by_role("button", name=phone.says("people.takeItOff"), exact=True).click()
    expect(phone.page.locator(".toast")).to_contain_text(phone.says("people.isOff"))
    after = workshop.api.get(f"/api/cases/{gone}").json()
    assert after["complaint"] == (
        "hums at 60, former member heard it, so did former member, ask former member"
    )
    expect(phone.page.get_by_text(NAME)).to_have_count(0)
    phone.go(f"#/case/{gone}")
    expect(phone.page.locator("body")).not_to_contain_text("Quillon")
    assert phone.complaints == []


@pytest.mark.usefixtures("gone")
def test_what_was_looked_at_is_looked_at_anew_where_the_choice_changes(signed_in: Phone) -> None:
    phone = signed_in("manager")
    slip = slip_of(phone)
    slip.get_by_role("button", name=phone.says("people.lookFirst")).click()
    expect(slip.get_by_role("button", name=phone.says("people.takeOff"))).to_be_visible()
    slip.get_by_role("button", name=phone.says("people.textsStay")).click()
    expect(slip.get_by_role("button", name=phone.says("people.takeOff"))).to_have_count(0)
    slip.get_by_role("button", name=phone.says("people.lookFirst")).click()
    expect(slip.get_by_role("link")).to_have_count(0)


@pytest.mark.parametrize(
    ("locale", "said"),
    [("en-US", "Shop: changed (labour rate)"), ("es-ES", "Taller: cambiado (precio por hora)")],
)
def test_the_manager_reads_who_changed_what_page_by_page(
    signed_in: Phone, workshop: Workshop, locale: str, said: str
) -> None:
    case = workshop.api.post("/api/cases", json={"complaint": "smells of hot oil"}).raise_for_status().json()
    for rate in range(80, 112):
        workshop.api.patch("/api/shop", json={"rate_per_hour": rate}).raise_for_status()
    phone = signed_in("manager", locale=locale)
    phone.wait_until_in_step()
    phone.page.get_by_role("button", name=phone.says("trail.look")).click()
    acts = phone.page.get_by_role("list", name=phone.says("trail.title")).get_by_role("listitem")
    expect(acts).to_have_count(30)
    expect(acts.nth(3)).to_contain_text(said)
    expect(acts.nth(3)).to_contain_text("Mo")
    assert overflow_px(phone.page) <= 0
    assert small_targets(phone.page, 48) == [] and weak_text(phone.page, 7.0) == []
    phone.page.get_by_role("button", name=phone.says("trail.older")).click()
    expect(acts).to_have_count(60)
    link = acts.get_by_role("link", name="smells of hot oil").first
    expect(link).to_have_attribute("href", f"#/case/{case['id']}")
    assert phone.complaints == []


def test_a_technician_is_shown_neither(signed_in: Phone) -> None:
    phone = signed_in()
    phone.wait_until_in_step()
    for text in ("people.takeOff", "trail.title"):
        expect(phone.page.get_by_text(phone.says(text))).to_have_count(0)
