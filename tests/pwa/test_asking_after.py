"""What the office does after a case is closed: asks after cars, asks authors, counts cars."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from uuid import uuid4

from handset import Handset
from playwright.sync_api import expect
from workshop import Workshop

Phone = Callable[..., Handset]
CAR = {"make": "Kessby", "model": "Tuck", "year": 2014}


def moved_in(workshop: Workshop, title: str, *, days: float = 20.0, by: str | None = None) -> str:
    """A closed case of so many days ago."""
    when = (datetime.now(UTC) - timedelta(days=days)).isoformat()
    case = {"kind": "case", "id": str(uuid4()), "complaint": title, "title": title, "vehicle": CAR, "by": by}
    line = case | {"state": "closed", "cause": "charging.battery.weak", "opened": when, "closed": when}
    kind = {"Content-Type": "application/x-ndjson"}
    body = json.dumps(line | {"updated": when})
    workshop.api.post("/api/import", content=body, headers=kind).raise_for_status()
    return str(case["id"])


def test_a_car_to_ask_after_is_two_taps_away_and_what_was_heard_is_kept(
    signed_in: Phone, workshop: Workshop
) -> None:
    case = moved_in(workshop, "Tuck asked after")
    phone = signed_in("manager")
    phone.go("#/failing")
    page = phone.page
    page.get_by_role("button", name="to ask after").first.click()
    slip = page.locator("li.slip", has_text="Tuck asked after")
    slip.get_by_role("button", name="It is cured").click()
    expect(slip).to_have_count(0)
    assert workshop.api.get(f"/api/cases/{case}").json()["followed"]["outcome"] == "cured"


def test_a_car_seen_is_counted_by_one_tap_and_again(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in("manager")
    phone.go("#/failing?at=care")
    page = phone.page
    page.get_by_label("Make").fill("Ondrey")
    page.get_by_label("Model", exact=True).fill("Pike")
    page.get_by_role("button", name="Count it").click()
    more = page.get_by_role("button", name="One more Ondrey Pike")
    more.click()
    expect(page.get_by_role("region", name="Car seen").get_by_text("2", exact=True)).to_be_visible()
    (row,) = workshop.api.get("/api/visits").json()["visits"]
    assert (row["model"], row["count"]) == ("Pike", 2)


def test_an_author_answers_what_the_office_asks_with_one_tap(signed_in: Phone, workshop: Workshop) -> None:
    technician = signed_in()
    case = moved_in(workshop, "Tuck without minutes", days=70.0, by="Tess")
    asked = {"facts": ["diagnosis minutes"]}
    workshop.api.post(f"/api/cases/{case}/asks", json=asked).raise_for_status()
    technician.go("#/cases")
    slip = technician.page.locator("li.slip", has_text="Tuck without minutes")
    slip.get_by_role("button", name="30", exact=True).click()
    expect(technician.page.get_by_role("heading", name="Asked of you")).to_have_count(0)
    expect(technician.page.get_by_text("Saved with the case")).to_be_visible(timeout=20_000)
    technician.wait_until_sent()
    assert workshop.api.get(f"/api/cases/{case}").json()["labour"]["diagnosis_min"] == 30


def test_a_table_is_sorted_by_its_heads_with_the_keyboard(signed_in: Phone) -> None:
    phone = signed_in("manager")
    phone.go("#/failing?at=glance")
    page = phone.page
    figure = page.locator("figure", has_text="pairs stand out")
    figure.locator("summary", has_text="The figures of it").click()
    head = figure.get_by_role("columnheader", name="Seen")
    head.get_by_role("button").focus()
    page.keyboard.press("Enter")
    expect(head).to_have_attribute("aria-sort", "ascending")
    rows = figure.get_by_role("region", name="Figures: map").locator("tbody tr td:nth-child(3)")
    seen = [int(each) for each in rows.all_inner_texts()]
    assert seen == sorted(seen) and len(seen) > 2
    page.keyboard.press("Enter")
    expect(head).to_have_attribute("aria-sort", "descending")
