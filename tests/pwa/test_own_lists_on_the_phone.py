"""The shop's own tests and causes, its missing tools and its certificates, set and used on the phone."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count

from handset import Handset
from past_cases import COLD_THEN_WARM
from playwright.sync_api import expect
from workshop import Workshop

Phone = Callable[..., Handset]
fresh = count(1)


def own_words() -> str:
    """A title no other test of this run uses."""
    return f"Feel the pipe behind the grille, way {next(fresh)}"


def fill_in(phone: Handset, title: str) -> None:
    """The sheet for a test of our own, filled from the answer at hand."""
    phone.page.get_by_role("button", name="Another test").click()
    phone.page.get_by_role("button", name="Something of our own").click()
    phone.page.get_by_label("What do you do?").fill(title)
    phone.page.get_by_role("group", name="If it finds something").get_by_role("button").first.click()


def test_a_test_of_our_own_is_used_the_same_minute(signed_in: Phone, workshop: Workshop) -> None:
    phone, title = signed_in(), own_words()
    phone.ask(f"{COLD_THEN_WARM}, grille off")
    fill_in(phone, title)
    phone.page.get_by_role("button", name="Add the test and use it").click()
    sheet = phone.page.get_by_role("dialog")
    expect(sheet.get_by_role("heading", name=title)).to_be_visible()
    sheet.get_by_role("button", name="Not found").click()
    expect(phone.page.locator(".toast")).to_contain_text("Not found")
    phone.wait_until_sent()
    case = workshop.api.get(f"/api/cases/{phone.page.url.rpartition('/')[2]}").json()
    assert [(each["test"][:4], each["outcome"]) for each in case["tests"]] == [("own.", "not_found")]


def test_another_phone_finds_the_test_too(signed_in: Phone) -> None:
    title = own_words()
    other = signed_in("manager", name="Office phone")
    other.wait_until_in_step()
    phone = signed_in()
    phone.ask(COLD_THEN_WARM)
    fill_in(phone, title)
    phone.page.get_by_role("button", name="Add the test and use it").click()
    expect(phone.page.get_by_role("dialog").get_by_role("heading", name=title)).to_be_visible()
    other.page.get_by_role("button", name="Send and fetch now").click()
    other.ask(COLD_THEN_WARM)
    other.page.get_by_role("button", name="Another test").click()
    other.page.get_by_label("Find a test").fill(title)
    found = other.page.get_by_role("dialog").get_by_role("button", name=title)
    expect(found).to_contain_text("our own")


def test_without_signal_the_typed_words_stay_and_go_with_signal(signed_in: Phone) -> None:
    phone, title = signed_in(), own_words()
    phone.ask(COLD_THEN_WARM)
    phone.wait_for_worker()
    expect(phone.page.locator(".tag")).to_be_visible()
    phone.page.context.set_offline(True)
    fill_in(phone, title)
    phone.page.get_by_role("button", name="Add the test and use it").click()
    expect(phone.page.get_by_role("dialog").get_by_role("alert")).to_contain_text("No signal")
    phone.page.context.set_offline(False)
    phone.page.reload()
    expect(phone.page.locator(".tag")).to_be_visible()
    phone.page.get_by_role("button", name="Another test").click()
    phone.page.get_by_role("button", name="Something of our own").click()
    expect(phone.page.get_by_label("What do you do?")).to_have_value(title)
    phone.page.get_by_role("button", name="Add the test and use it").click()
    expect(phone.page.get_by_role("dialog").get_by_role("heading", name=title)).to_be_visible()


def test_a_cause_of_our_own_is_weighed_from_then_on(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    phone.ask(COLD_THEN_WARM)
    phone.settle_on_a_test()
    phone.page.get_by_role("button", name="Add a cause of our own").click()
    phone.page.get_by_label("What was it?").fill("Plastic bag on the condenser")
    signs = phone.page.get_by_role("group", name="It shows as").get_by_role("button")
    if signs.first.get_attribute("aria-pressed") == "false":
        signs.first.click()
    phone.page.get_by_role("button", name="Add the cause").click()
    expect(phone.page.locator(".toast")).to_contain_text("Added")
    listed = workshop.api.get("/api/trade/causes").json()["items"]
    assert [each["own"] for each in listed if each["title"] == "Plastic bag on the condenser"] == [True]


def test_a_missing_tool_and_a_certificate_are_set_by_the_manager(
    signed_in: Phone, workshop: Workshop
) -> None:
    phone = signed_in("manager")
    phone.wait_until_in_step()
    try:
        phone.page.get_by_label("Add a missing tool").select_option("scope")
        expect(phone.page.get_by_role("button", name="Take away scope")).to_be_visible()
        phone.page.locator("summary", has_text="Add a certificate").click()
        phone.page.get_by_label("What it is called").fill("Hybrid certificate")
        phone.page.get_by_role("group", name="Needed for all work on").last.get_by_role(
            "button"
        ).first.click()
        phone.page.get_by_role("button", name="Add it").click()
        expect(phone.page.locator(".slip", has_text="Hybrid certificate").last).to_be_visible()
        tess = phone.page.locator(".slip", has_text="Tess").first
        tess.locator("summary", has_text="Change").click()
        tess.get_by_role("button", name="hybrid certificate").click()
        expect(tess).to_contain_text("Holds: hybrid certificate")
        shop = workshop.api.get("/api/shop").json()
        assert "scope" in shop["lacks"]
        assert "hybrid certificate" in [each["right"] for each in shop["rights"]]
    finally:
        workshop.api.patch("/api/shop", json={"lacks": [], "rights": []}).raise_for_status()
