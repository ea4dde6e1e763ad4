"""The manager's drawings: each with its words, its figures and its file."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from handset import Handset
from past_cases import OFTEN_TIMES
from playwright.sync_api import expect
from workshop import Workshop

Phone = Callable[..., Handset]


def opened(signed_in: Phone, part: str = "glance") -> Handset:
    """A manager's phone at what keeps failing, one part unfolded."""
    phone = signed_in("manager")
    phone.go(f"#/failing?at={part}")
    expect(phone.page.locator(f"#at-{part} .bin").first).to_be_visible()
    return phone


def test_a_mark_of_the_map_opens_its_months_with_a_sentence(signed_in: Phone) -> None:
    page = opened(signed_in).page
    page.get_by_role("button", name="Vostrel Harrow, Engine cooling: month by month").click()
    figure = page.locator("figure", has_text="Bars: seen")
    expect(figure.locator("figcaption")).to_contain_text(f"seen {OFTEN_TIMES} times")
    expect(figure.locator("svg rect").first).to_be_attached()


def test_the_figures_of_a_drawing_are_those_of_the_service(
    signed_in: Phone, workshop: Workshop, tmp_path: Path
) -> None:
    page = opened(signed_in).page
    figure = page.locator("figure", has_text="pairs stand out")
    figure.locator("summary", has_text="The figures of it").click()
    with page.expect_download() as saved:
        figure.get_by_role("button", name="Save as a table").click()
    saved.value.save_as(tmp_path / "map.csv")
    rows = list(csv.DictReader((tmp_path / "map.csv").read_text().splitlines()))
    answer = workshop.api.get("/api/recurrences", params={"by": "model,system"}).json()
    assert [(row["Car"], int(row["Seen"])) for row in rows] == [
        (row["key"]["model"], row["observed"]) for row in answer["rows"]
    ]


def test_money_minutes_cures_and_the_shelf_are_told_in_words(signed_in: Phone) -> None:
    page = opened(signed_in, "office").page
    for heading in ("Cured at the first visit", "Money and minutes", "Worth keeping on the shelf"):
        expect(page.get_by_role("heading", name=heading, exact=True)).to_be_visible()
    with page.expect_download() as saved:
        page.get_by_role("button", name="Save the month as a page to print").click()
    assert saved.value.suggested_filename == "month.html"


def test_a_technician_sees_parts_but_no_office(signed_in: Phone) -> None:
    phone = signed_in()
    phone.go("#/failing")
    expect(phone.page.get_by_text("Parts that cured, and did not")).to_be_visible()
    expect(phone.page.get_by_role("heading", name="Money and minutes")).to_have_count(0)


@pytest.mark.parametrize("part", ["alerts", "rows", "parts", "glance", "office", "care"])
def test_nothing_runs_over_the_edge_of_a_phone(signed_in: Phone, part: str) -> None:
    page = opened(signed_in, part).page
    wide = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    assert wide <= 0


def test_the_folded_page_is_a_short_list_of_sentences(signed_in: Phone) -> None:
    phone = signed_in("manager")
    phone.go("#/failing")
    page = phone.page
    heads = page.locator(".at-head")
    expect(heads).to_have_count(6)
    expect(heads.nth(1)).to_contain_text(re.compile(r"\d of \d+ stand out, most of all: .+, .+\."))
    expect(page.get_by_role("region", name="Needs you now")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollHeight / innerHeight") < 2.5


def test_a_way_at_the_thumb_unfolds_its_part_and_the_address_keeps_it(signed_in: Phone) -> None:
    page = opened(signed_in).page
    page.locator(".ways").get_by_role("button", name="Money and minutes").click()
    head = page.get_by_role("button", expanded=True)
    expect(head).to_contain_text("Money and minutes")
    expect(head).to_be_in_viewport()
    expect(page).to_have_url(re.compile("at=office"))
    page.reload()
    expect(page.get_by_role("heading", name="Worth keeping on the shelf")).to_be_visible()
    head.click()
    expect(page.get_by_role("heading", name="Worth keeping on the shelf")).to_be_hidden()


def test_on_paper_all_parts_are_there(signed_in: Phone) -> None:
    page = opened(signed_in).page
    page.emulate_media(media="print")
    for heading in ("Cured at the first visit", "Ask after these cars", "Parts that cured, and did not"):
        expect(page.get_by_role("heading", name=heading)).to_be_visible()
    expect(page.locator(".ways")).to_be_hidden()


def test_the_bay_can_unfold_what_was_found_on_the_model(signed_in: Phone, workshop: Workshop) -> None:
    body = {"complaint": "overheats again", "vehicle": {"make": "Vostrel", "model": "Harrow"}}
    case = workshop.api.post("/api/cases", json=body).json()["id"]
    phone = signed_in()
    phone.wait_for_copy(1)
    phone.go(f"#/advice/case/{case}")
    fold = phone.page.locator("summary", has_text="Found before on Vostrel Harrow")
    expect(fold).to_be_visible(timeout=15_000)
    fold.click()
    expect(phone.page.get_by_text("it was something else")).to_be_visible()
