"""A VIN is entered beside the car: it fills an empty year, and where one is typed it only speaks up.

The number is the worked example of 49 CFR 565.15 (Table VI): model year 2005.
"""

from __future__ import annotations

from collections.abc import Callable

from handset import Handset
from playwright.sync_api import Page, expect

Phone = Callable[..., Handset]
EXAMPLE = "1G4AH59H45G118341"


def at_the_car(signed_in: Phone) -> Page:
    """A phone that enters a car by its fields."""
    phone = signed_in()
    phone.go("#/ask")
    phone.page.get_by_role("button", name="Another car").click()
    return phone.page


def test_an_empty_year_is_filled_and_marked_as_from_the_vin(signed_in: Phone) -> None:
    page = at_the_car(signed_in)
    page.get_by_label("VIN").fill(EXAMPLE.lower())
    expect(page.get_by_label("Year from the VIN")).to_have_value("2005")


def test_a_typed_year_stays_until_the_vins_year_is_taken_in_one_tap(signed_in: Phone) -> None:
    page = at_the_car(signed_in)
    page.get_by_label("Year").fill("2004")
    page.get_by_label("VIN").fill(EXAMPLE)
    expect(page.get_by_text("VIN says 2005, typed 2004")).to_be_visible()
    expect(page.get_by_label("Year")).to_have_value("2004")
    page.get_by_role("button", name="Take 2005").click()
    expect(page.get_by_text("VIN says 2005, typed 2004")).to_have_count(0)
    expect(page.get_by_label("Year from the VIN")).to_have_value("2005")


def test_a_vin_that_cannot_be_says_what_is_wrong_and_the_way_out(signed_in: Phone) -> None:
    page = at_the_car(signed_in)
    page.get_by_label("VIN").fill(EXAMPLE.replace("341", "314"))
    expect(page.get_by_text("check digit at place 9")).to_contain_text("leave the VIN out")
