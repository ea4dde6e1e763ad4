"""The life curve of a part: drawn where the shop saw enough cars more than once, given seen here."""

from __future__ import annotations

import json
from collections.abc import Iterator
from urllib.parse import urlencode

import pytest
from conftest import PHONE
from followed_cars import CARS, COMPONENT, MAKE, MODEL, followed_cars
from handset import Handset
from playwright.sync_api import Browser, Locator, expect
from workshop import Workshop, serving


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    """The service over a shop that saw the same cars twice."""
    with serving(tmp_path_factory.mktemp("followed")) as opened:
        body = "\n".join(json.dumps(each) for each in followed_cars())
        kind = {"Content-Type": "application/x-ndjson"}
        opened.api.post("/api/import", content=body, headers=kind).raise_for_status()
        yield opened


@pytest.fixture(scope="module")
def curve(followed: Workshop, browser: Browser) -> Iterator[Locator]:
    """The drawing of the pump's life on a manager's phone."""
    context = browser.new_context(viewport=PHONE, locale="en-US")
    phone = Handset(context.new_page(), followed.address)
    phone.join(followed.link_for("manager"))
    row = {"row.model": f"{MAKE} {MODEL}", "row.component": COMPONENT}
    phone.go(f"#/failing?{urlencode({'at': 'glance', 'by': 'model,component', **row})}")
    yield phone.page.locator("figure", has_text="Of parts alive at")
    context.close()


def test_a_life_is_told_given_seen_here_and_drawn_with_its_band(curve: Locator, followed: Workshop) -> None:
    asked = {"model": f"{MAKE} {MODEL}", "component": COMPONENT}
    life = followed.api.get("/api/recurrences/life", params=asked).json()
    assert life["cars"] == CARS and len(life["steps"]) == life["failures"] > 8
    expect(curve.locator("figcaption")).to_have_text(life["says"])
    expect(curve.get_by_text("on cars seen here")).to_be_visible()
    expect(curve.locator("svg path")).to_have_count(4)
    curve.locator("summary").click()
    risk = curve.get_by_role("region", name="Figures: life").locator("tbody td:nth-child(2)")
    expect(risk).to_have_count(len(life["steps"]))
    assert [int(each) for each in risk.all_inner_texts()] == [step["at_risk"] for step in life["steps"]]


def test_the_words_of_a_life_do_not_run_into_each_other(curve: Locator) -> None:
    words = curve.locator("svg text")
    expect(words.first).to_be_visible()
    boxes = [box for each in words.all() if (box := each.bounding_box())]
    apart = [
        a["x"] + a["width"] <= b["x"]
        or b["x"] + b["width"] <= a["x"]
        or abs(a["y"] - b["y"]) >= a["height"] - 2
        for n, a in enumerate(boxes)
        for b in boxes[n + 1 :]
    ]
    assert len(boxes) > 3 and all(apart)
