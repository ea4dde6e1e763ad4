"""What the manager sees and does on the phone."""

from __future__ import annotations

from collections.abc import Callable

from handset import Handset
from past_cases import OFTEN_TIMES
from playwright.sync_api import expect
from workshop import Workshop

Phone = Callable[..., Handset]


def test_the_model_that_keeps_failing_stands_out_with_its_cases(signed_in: Phone) -> None:
    phone = signed_in("manager")
    phone.wait_for_copy(OFTEN_TIMES)
    phone.go("#/failing?at=rows")
    row = phone.page.locator("li.slip", has_text="Harrow").first
    expect(row).to_contain_text("Stands out")
    expect(row).to_contain_text(str(OFTEN_TIMES))
    row.locator("summary").click()
    row.get_by_role("link").first.click()
    expect(phone.page.locator(".tag")).to_contain_text("Harrow")


def test_how_parts_did_is_said_per_source(signed_in: Phone) -> None:
    phone = signed_in()
    phone.go("#/failing")
    phone.page.locator("summary", has_text="Fan").first.click()
    expect(phone.page.get_by_text("cured").first).to_be_visible()


def test_a_lost_phone_is_locked_out_from_another(signed_in: Phone) -> None:
    lost = signed_in(name="Dropped in the pit")
    manager = signed_in("manager")
    manager.go("#/shop")
    theirs = manager.page.locator(".slip", has_text="Dropped in the pit")
    theirs.get_by_role("button", name="Lost").click()
    manager.page.get_by_role("button", name="Lock out").click()
    expect(theirs).to_have_count(0)
    lost.page.reload()
    expect(lost.page.get_by_label("Name of this phone")).to_be_visible(timeout=15_000)


def test_the_unit_habit_of_the_shop_changes_what_the_pad_offers_first(
    signed_in: Phone, workshop: Workshop
) -> None:
    phone = signed_in("manager")
    phone.wait_for_copy(1)
    try:
        workshop.api.patch("/api/shop", json={"unit_system": "us"}).raise_for_status()
        phone.page.reload()
        phone.go("#/ask")
        phone.page.wait_for_timeout(500)
        phone.page.get_by_role("button", name="Add a reading").click()
        phone.page.get_by_label("What was measured").select_option("fuel_p_port")
        expect(phone.page.get_by_role("button", name="psi", exact=True)).to_have_attribute(
            "aria-pressed", "true"
        )
    finally:
        workshop.api.patch("/api/shop", json={"unit_system": "si"}).raise_for_status()
