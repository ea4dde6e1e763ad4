"""The cases on a wide screen: a table sorted by its heads, walked with the keys, taken along as a file."""

from __future__ import annotations

import csv
from collections.abc import Callable
from io import StringIO

from handset import Handset
from measures import overflow_px, weak_text
from past_cases import OFTEN_TIMES
from playwright.sync_api import Locator, expect

Phone = Callable[..., Handset]
DESK = {"viewport": {"width": 1280, "height": 800}, "is_mobile": False, "has_touch": False}
FOCUSED = "document.activeElement.sectionRowIndex"


def column(table: Locator, head: str) -> list[str]:
    """What stands under a head, from top to bottom."""
    heads = [each.strip(" ▲▼") for each in table.locator("th").all_inner_texts()]
    return table.locator(f"tbody tr td:nth-child({heads.index(head) + 1})").all_inner_texts()


def test_the_cases_are_a_table_at_the_desk(signed_in: Phone) -> None:
    phone = signed_in("manager", **DESK)
    page = phone.page
    phone.wait_until_in_step()
    phone.go("#/cases")
    page.get_by_role("button", name="Closed").click()
    table = page.get_by_role("region", name="Cases")
    expect(table.locator("tbody tr").nth(OFTEN_TIMES - 1)).to_be_visible(timeout=15_000)
    assert [weak_text(page, 7.0), overflow_px(page)] == [[], 0]
    head = table.get_by_role("columnheader", name="Car")
    head.get_by_role("button").focus()
    page.keyboard.press("Enter")
    expect(head).to_have_attribute("aria-sort", "ascending")
    cars = column(table, "Car")
    assert cars == sorted(cars, key=str.casefold) and len(set(cars)) > 1
    page.keyboard.press("Enter")
    expect(head).to_have_attribute("aria-sort", "descending")
    assert column(table, "Car")[0] == cars[-1]
    walk_and_open(phone, table)


def walk_and_open(phone: Handset, table: Locator) -> None:
    """From row to row by the keys, to the search and back, into a case."""
    page = phone.page
    for key, row in (("j", 0), ("j", 1), ("ArrowDown", 2), ("k", 1)):
        page.keyboard.press(key)
        assert page.evaluate(FOCUSED) == row
    page.keyboard.press("/")
    expect(page.get_by_label("Find a case")).to_be_focused()
    page.keyboard.type("clutch gap j")
    expect(page.get_by_label("Find a case")).to_have_value("clutch gap j")
    page.get_by_label("Find a case").fill("clutch gap")
    expect(table.locator("tbody tr").first).to_contain_text("lutch gap")
    with page.expect_download() as taken:
        page.get_by_role("button", name="Save as a table").click()
    rows = list(csv.reader(StringIO(taken.value.path().read_text())))
    assert rows[0][:3] == ["What it was", "State", "Cause"]
    assert [row[2] for row in rows[1:]] == column(table, "Cause")
    page.keyboard.press("j")
    words = table.locator("tbody tr").first.locator("td").first.inner_text()
    page.keyboard.press("Enter")
    expect(page.locator(".tag h2")).to_have_text(words)
