"""The page a customer takes home: of a closed case, without signal, on one sheet, without names."""

from __future__ import annotations

import re
from collections.abc import Callable

import httpx
import pytest
from handset import Handset
from measures import overflow_px, small_targets, weak_text
from playwright.sync_api import expect
from workshop import Workshop

Phone = Callable[..., Handset]
SECRET = "told the boss it was our own mistake"
SHEETS = ("A4", "Letter")


def long_case(api: httpx.Client) -> str:
    """A closed case with more readings, tests and words than fit a page."""
    vehicle = {"year": 2012, "make": "Ondrey", "model": "Pell", "odometer": {"value": 90000, "unit": "km"}}
    complaint = "pulls to the left when braking hard, " * 60
    body = {"complaint": complaint, "vehicle": vehicle, "note": SECRET}
    case: str = api.post("/api/cases", json=body).raise_for_status().json()["id"]
    for at in range(12):
        reading = {
            "quantity": "battery_open_circuit_voltage",
            "value": 12.0 + at / 10,
            "unit": "V",
            "point": f"pin {at}",
        }
        api.post(f"/api/cases/{case}/readings", json=reading).raise_for_status()
    ending = {
        "own_cause": {"title": "brake hose swollen inside", "system": "brakes"},
        "correction": "both front hoses renewed and the brakes bled, " * 12,
        "labour": {"diagnosis_min": 40, "repair_min": 60},
    }
    api.post(f"/api/cases/{case}/close", json=ending).raise_for_status()
    return case


def pages_of(pdf: bytes) -> int:
    """How many pages a PDF has, by its page objects (ISO 32000-1, 7.7.3.3)."""
    return len(re.findall(rb"/Type\s*/Page\b(?!s)", pdf))


def test_a_closed_case_makes_one_printed_page_without_signal(signed_in: Phone, workshop: Workshop) -> None:
    case = long_case(workshop.api)
    phone = signed_in()
    page = phone.page
    phone.wait_for_worker()
    phone.wait_until_in_step()
    page.context.set_offline(True)
    phone.go(f"#/case/{case}")
    page.get_by_role("link", name="Page for the customer").click()
    sheet = page.get_by_role("article", name="Page for the customer")
    expect(sheet).to_contain_text("Brake hose swollen inside")
    expect(sheet).to_contain_text("do not drive on")
    expect(sheet).not_to_contain_text(SECRET)
    expect(sheet).not_to_contain_text("Worked on by")
    assert [small_targets(page, 48), weak_text(page, 7.0), overflow_px(page)] == [[], [], 0]
    assert [pages_of(page.pdf(format=each)) for each in SHEETS] == [1, 1]
    assert pages_of(page.pdf(width="10cm", height="10cm")) > 1, (
        "the count sees more pages where there are more"
    )
    page.get_by_role("switch", name="With our names on it").click()
    expect(sheet).to_contain_text("Worked on by Mo")
    assert phone.complaints == []


def test_the_page_is_copied_as_text_where_it_cannot_be_shared(signed_in: Phone, workshop: Workshop) -> None:
    case = long_case(workshop.api)
    phone = signed_in(permissions=["clipboard-read", "clipboard-write"])
    phone.wait_until_in_step()
    phone.page.evaluate(
        "navigator.share = undefined; delete Navigator.prototype.share; delete navigator.share"
    )
    phone.go(f"#/handover/{case}")
    expect(phone.page.get_by_role("button", name="Share")).to_have_count(0)
    phone.page.get_by_role("button", name="Copy as text").click()
    expect(phone.page.locator(".toast")).to_contain_text("copied")
    text = phone.page.evaluate("navigator.clipboard.readText()")
    assert "What we found:\n- Brake hose swollen inside" in text
    assert SECRET not in text


SHARE = """
refuses => Object.defineProperty(navigator, 'share', { configurable: true, value: async given => {
  window.given = given;
  if (refuses) throw new DOMException('refused', refuses);
}})
"""


def test_the_page_and_a_case_are_handed_to_another_app(signed_in: Phone, workshop: Workshop) -> None:
    case = long_case(workshop.api)
    phone = signed_in()
    page = phone.page
    phone.wait_until_in_step()
    page.evaluate(SHARE, "")
    phone.go(f"#/handover/{case}")
    page.get_by_role("button", name="Share").click()
    page.wait_for_function("window.given")
    given = page.evaluate("window.given")
    assert "What we found:\n- Brake hose swollen inside" in given["text"] and given["title"]
    assert SECRET not in given["text"]
    page.evaluate("delete window.given")
    phone.go(f"#/case/{case}")
    page.get_by_role("button", name="Send to a colleague").click()
    page.wait_for_function("window.given")
    given = page.evaluate("window.given")
    assert "2012 Ondrey Pell" in given["text"]
    assert "cause: brake hose swollen inside" in given["text"].lower()
    assert given["url"].endswith(f"#/case/{case}") and given["url"].startswith(workshop.address)
    assert SECRET not in given["text"]
    expect(page.locator(".toast")).to_have_count(0)


@pytest.mark.parametrize(("refuses", "said"), [("NotAllowedError", "did not share it"), ("AbortError", "")])
def test_a_share_that_is_refused_is_copied_and_one_turned_away_is_left(
    signed_in: Phone, workshop: Workshop, refuses: str, said: str
) -> None:
    case = long_case(workshop.api)
    phone = signed_in(permissions=["clipboard-read", "clipboard-write"])
    page = phone.page
    phone.wait_until_in_step()
    page.evaluate(SHARE, refuses)
    page.evaluate("navigator.clipboard.writeText('before')")
    phone.go(f"#/case/{case}")
    page.get_by_role("button", name="Send to a colleague").click()
    page.wait_for_function("window.given")
    if said:
        expect(page.locator(".toast")).to_contain_text(said)
        assert f"#/case/{case}" in page.evaluate("navigator.clipboard.readText()")
    else:
        expect(page.locator(".toast")).to_have_count(0)
        assert page.evaluate("navigator.clipboard.readText()") == "before"
