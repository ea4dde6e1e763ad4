"""What keeps failing is shown as its address says: on any phone, after going back, and to whoever it is sent."""

from __future__ import annotations

import re
from collections.abc import Callable

from handset import Handset
from playwright.sync_api import Locator, Page, expect

Phone = Callable[..., Handset]
MODEL = "Vostrel Harrow"


def model(page: Page) -> Locator:
    """The choice of one model."""
    return page.get_by_role("combobox", name="Model", exact=True)


def by_model_and_part(phone: Handset) -> Page:
    """The rows of one model by part, seen once and more, its first row by month, the map's figures sorted."""
    phone.go("#/failing?at=rows")
    page = phone.page
    page.get_by_role("button", name=phone.says("failing.byModelAndPart"), exact=True).click()
    page.locator("summary", has_text=phone.says("failingFilter.more")).click()
    model(page).select_option(MODEL)
    page.get_by_label(phone.says("failingFilter.least")).select_option("1")
    page.get_by_role("button", name=phone.says("failing.monthByMonth"), exact=True).first.click()
    expect(page.locator("figure", has_text="Bars: seen")).to_be_visible()
    return page


def heads(page: Page) -> list[str]:
    """The titles of the rows in the order shown."""
    return page.locator("h3.slip-title").all_inner_texts()


def shown(page: Page) -> tuple[list[str], list[str], str]:
    """Rows, the sorted figures of the intervals, and what is said of the chosen row."""
    expect(page.locator("figure", has_text="Bars: seen")).to_be_visible()
    table = page.get_by_role("region", name="Figures: intervals").locator("tbody tr")
    expect(table.first).to_be_visible()
    said = page.locator("figure", has_text="Bars: seen").locator("figcaption").inner_text()
    return heads(page), table.all_inner_texts(), said


def test_the_same_address_shows_the_same_on_another_phone(signed_in: Phone) -> None:
    page = by_model_and_part(signed_in("manager"))
    figures = page.locator("figure", has_text="The whole line lies right")
    figures.locator("summary").click()
    figures.get_by_role("button", name="Seen").click()
    figures.get_by_role("button", name="Seen").click()
    expect(page).to_have_url(re.compile(r"sort\.intervals=-seen"))
    mine = shown(page)
    other = signed_in("manager", name="Office tablet").page
    other.goto(page.url)
    assert shown(other) == mine
    expect(other.get_by_role("columnheader", name="Seen").first).to_have_attribute("aria-sort", "descending")
    assert other.url == page.url


def test_a_reload_keeps_the_view(signed_in: Phone) -> None:
    page = by_model_and_part(signed_in("manager"))
    before = heads(page)
    page.reload()
    expect(page.locator("figure", has_text="Bars: seen")).to_be_visible()
    assert heads(page) == before
    expect(page.get_by_label("Seen at least")).to_have_value("1")


def test_the_way_back_leads_through_the_views_to_where_one_came_from(signed_in: Phone) -> None:
    page = by_model_and_part(signed_in("manager"))
    page.go_back()
    expect(page.locator("figure", has_text="Bars: seen")).to_have_count(0)
    page.go_back()
    expect(page.get_by_label("Seen at least")).to_have_value("2")
    page.go_back()
    expect(model(page)).to_have_value("")
    page.go_back()
    expect(page.get_by_role("button", name="Model and system")).to_have_attribute("aria-pressed", "true")
    page.go_forward()
    expect(page.get_by_role("button", name="Model and part")).to_have_attribute("aria-pressed", "true")


def test_another_view_of_the_place_does_not_jump_to_its_top(signed_in: Phone) -> None:
    phone = signed_in("manager")
    phone.go("#/failing?at=rows")
    expect(phone.page.locator(".busy")).to_have_count(0)
    more = phone.page.locator("summary", has_text="The figures of it").first
    more.scroll_into_view_if_needed()
    before = phone.page.evaluate("scrollY")
    more.click()
    expect(phone.page).to_have_url(re.compile("open="))
    assert phone.page.evaluate("scrollY") >= before > 0


def test_what_an_address_says_wrongly_is_passed_over(signed_in: Phone) -> None:
    phone = signed_in("manager")
    phone.go("#/failing?at=rows&by=moon&least=none&since=yesterday&open=%E0%A4%A&row.moon=1")
    expect(phone.page.get_by_role("button", name="Model and system")).to_have_attribute(
        "aria-pressed", "true"
    )
    assert phone.complaints == []
