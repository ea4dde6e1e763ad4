"""A visit that two members wrote down: offered after closing, joined or kept as two with one tap, undone."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from typing import Any

import pytest
from handset import Handset
from measures import overflow_px, small_targets, weak_text
from playwright.sync_api import Locator, expect
from workshop import Workshop

Phone = Callable[..., Handset]
CAUSE = "starting.starter.worn"
# Each visit has a car of its own.
ODOMETERS = count(50_000, 1_000)
HEADS = ("This one", "The other")


class Visit:
    """Two records of one visit by somebody else; the phone closes one of them."""

    def __init__(self, workshop: Workshop, km: int) -> None:
        self.api = workshop.api
        odometer = {"value": km, "unit": "km"}
        self.car = {"year": 2014, "make": "Ondrey", "model": "Calla", "odometer": odometer}
        self.other = self.opened("one clik and nothing, lamps bright", note="battery was fine")
        self.send(f"{self.other}/tests", {"test": "crank_drop_neg", "outcome": "high", "minutes": 4})
        self.mine = self.opened("one click and nothing turns, lamps stay bright")

    def opened(self, complaint: str, **more: Any) -> str:
        """The id of a new case."""
        body = {"complaint": complaint, "vehicle": self.car, **more}
        return str(self.send("", body)["id"])

    def send(self, path: str, body: dict[str, Any]) -> dict[str, Any]:
        """A write by somebody else."""
        answer = self.api.post(f"/api/cases/{path}".rstrip("/"), json=body)
        answer.raise_for_status()
        told: dict[str, Any] = answer.json()
        return told

    def read(self, case: str) -> dict[str, Any]:
        """A case as it is stored."""
        told: dict[str, Any] = self.api.get(f"/api/cases/{case}").json()
        return told


@pytest.fixture
def closed(signed_in: Phone, workshop: Workshop) -> tuple[Handset, Visit]:
    """A phone that has just closed its record of a visit."""
    visit = Visit(workshop, km=next(ODOMETERS))
    phone = signed_in()
    phone.wait_until_in_step()
    phone.go(f"#/close/{visit.mine}")
    phone.page.get_by_role("button", name="Something else").click()
    phone.page.get_by_label("What it was, in your words").fill("starter brushes gone")
    phone.page.get_by_role("button", name="Close the case").click()
    return phone, visit


def offer(phone: Handset) -> Locator:
    """The card that asks."""
    return phone.page.locator("section.bin", has_text="Written twice?")


def test_after_closing_both_records_stand_side_by_side_and_fit_the_screen(closed: Any) -> None:
    phone, _ = closed
    card = offer(phone)
    expect(card).to_contain_text("Same car, same day")
    expect(card.locator("th")).to_have_text(HEADS)
    expect(card.locator("table")).to_contain_text("one clik and nothing, lamps bright")
    expect(card).to_contain_text("Joining takes over: 1 step, the note.")
    assert overflow_px(phone.page) <= 0
    assert small_targets(phone.page, 48) == [] and weak_text(phone.page, 7.0) == []
    assert phone.complaints == []


def test_one_tap_joins_them_and_another_undoes_it(closed: Any) -> None:
    phone, visit = closed
    offer(phone).get_by_role("button", name="Join them").click()
    expect(phone.page.get_by_text("Another record of this visit is joined in")).to_be_visible()
    expect(offer(phone)).to_have_count(0)
    assert visit.read(visit.other)["joined_into"] == visit.mine
    assert len(visit.read(visit.mine)["tests"]) == 1
    phone.page.get_by_role("button", name="Undo").click()
    expect(phone.page.get_by_text("Another record of this visit is joined in")).to_have_count(0)
    assert visit.read(visit.other)["joined_into"] is None and visit.read(visit.mine)["tests"] == []


def test_keep_both_is_remembered_and_not_asked_again(closed: Any) -> None:
    phone, visit = closed
    offer(phone).get_by_role("button", name="Keep both").click()
    expect(phone.page.get_by_text("Kept as two visits")).to_be_visible()
    phone.go("#/cases")
    with phone.page.expect_response(lambda told: told.url.endswith("/alike")) as told:
        phone.go(f"#/case/{visit.mine}")
    assert told.value.json() == {"alike": []}
    expect(offer(phone)).to_have_count(0)


def test_the_joined_record_leaves_the_list_and_can_be_split_off_from_its_own_page(closed: Any) -> None:
    phone, visit = closed
    offer(phone).get_by_role("button", name="Join them").click()
    phone.page.get_by_role("link", name="See it, or split it off").click()
    expect(phone.page.get_by_text("joined into another case and counts no more")).to_be_visible()
    expect(phone.page.get_by_role("button", name="Reading")).to_have_count(0)
    phone.go("#/cases")
    phone.page.get_by_label("Find a case").fill("one clik and nothing, lamps bright")
    expect(phone.page.locator(f"ul[aria-label=Cases] a[href$='{visit.other}']")).to_have_count(0)
    phone.go(f"#/case/{visit.other}")
    phone.page.get_by_role("button", name="Split it off again").click()
    expect(phone.page.get_by_text("Split off: two cases again")).to_be_visible()
    expect(phone.page.get_by_role("button", name="Reading")).to_be_visible()


def test_what_the_service_refuses_is_said_with_its_remedy(closed: Any) -> None:
    phone, visit = closed
    expect(offer(phone)).to_be_visible()
    visit.send(f"{visit.other}/close", {"cause": CAUSE})
    offer(phone).get_by_role("button", name="Join them").click()
    expect(phone.page.get_by_role("alert")).to_contain_text("correct the cause of one first")
    assert visit.read(visit.other)["joined_into"] is None


def test_without_signal_nothing_is_asked_and_nothing_is_lost(closed: Any) -> None:
    phone, visit = closed
    expect(offer(phone)).to_be_visible()
    phone.page.context.set_offline(True)
    offer(phone).get_by_role("button", name="Join them").click()
    expect(phone.page.get_by_role("alert")).to_contain_text("This needs signal")
    phone.page.context.set_offline(False)
    offer(phone).get_by_role("button", name="Join them").click()
    expect(phone.page.get_by_text("Another record of this visit is joined in")).to_be_visible()
