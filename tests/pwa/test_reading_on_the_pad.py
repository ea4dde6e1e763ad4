"""Readings typed on the number pad."""

from __future__ import annotations

from collections.abc import Callable

from handset import Handset
from playwright.sync_api import expect

Phone = Callable[..., Handset]


def type_number(phone: Handset, digits: str) -> None:
    """Press the keys of a number."""
    for digit in digits:
        name = "Point" if digit == "." else digit
        phone.page.get_by_role("button", name=name, exact=True).click()


def open_pad(phone: Handset, quantity: str) -> None:
    """The pad for a quantity, from the asking screen."""
    phone.wait_for_copy(1)
    phone.go("#/ask")
    phone.page.get_by_role("button", name="Add a reading").click()
    phone.page.get_by_label("What was measured").select_option(quantity)


def test_a_reading_is_judged_while_it_is_typed(signed_in: Phone) -> None:
    phone = signed_in()
    open_pad(phone, "batt_rest")
    type_number(phone, "11.2")
    expect(phone.page.locator("dialog p.verdict[role=status]")).to_contain_text("Flat expected")


def test_a_slipped_decimal_is_questioned_and_not_dropped(signed_in: Phone) -> None:
    phone = signed_in()
    open_pad(phone, "batt_rest")
    type_number(phone, "126")
    expect(phone.page.locator("dialog")).to_contain_text("Check this number")
    phone.page.get_by_role("button", name="Save", exact=True).click()
    expect(phone.page.get_by_role("list", name="Readings")).to_contain_text("126 V")


def test_the_unit_is_switched_by_one_tap(signed_in: Phone) -> None:
    phone = signed_in()
    open_pad(phone, "fuel_p_port")
    type_number(phone, "50")
    phone.page.get_by_role("button", name="psi", exact=True).click()
    phone.page.get_by_role("button", name="Save", exact=True).click()
    expect(phone.page.get_by_role("list", name="Readings")).to_contain_text("50 psi")
