"""A whole job without signal: the phone advises by itself, and everything arrives once."""

from __future__ import annotations

import re
from collections.abc import Callable

from handset import Handset
from past_cases import OFTEN, OFTEN_TIMES
from playwright.sync_api import expect
from workshop import Workshop

Phone = Callable[..., Handset]
TESTS = 3


def test_a_whole_job_in_airplane_mode_arrives_exactly_once(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    phone.ready_for_the_air(OFTEN_TIMES)
    # Nothing like it was here before, so that much is left to test.
    complaint = "engine misfires under load, out on the bypass"
    phone.page.context.set_offline(True)
    phone.ask(complaint)
    expect(phone.page.locator(".notice.warn").first).to_contain_text("from this phone's copy")
    expect(phone.page.locator("#causes .percent").first).to_have_text(re.compile(r"%"))
    done = [one_test(phone) for _ in range(TESTS)]
    assert len(set(done)) == TESTS
    write_a_reading(phone)
    write_a_part(phone)
    phone.close_as("clutch gap")
    assert workshop.cases_about(complaint) == []
    phone.page.context.set_offline(False)
    phone.wait_until_sent()
    stored = workshop.cases_about(complaint)
    found = [
        (each["state"], *(len(each[kind]) for kind in ("tests", "readings", "parts"))) for each in stored
    ]
    assert found == [("closed", TESTS, 1, 1)]


def one_test(phone: Handset) -> str:
    """The proposed test with its first outcome; gives its title, which then is no longer proposed."""
    phone.settle_on_a_test()
    title = phone.next_step.inner_text()
    phone.tap_outcome()
    expect(phone.next_step).not_to_have_text(title)
    return title


def write_a_reading(phone: Handset) -> None:
    """The battery's voltage, by the sheet under the tag."""
    phone.page.get_by_role("button", name="A reading", exact=True).click()
    sheet = phone.page.locator("dialog[open]")
    sheet.get_by_label("What was measured").select_option("batt_rest")
    for key in ("1", "2", "Point", "4"):
        sheet.get_by_role("button", name=key, exact=True).click()
    sheet.get_by_role("button", name="Save", exact=True).click()
    expect(phone.page.locator(".toast")).to_contain_text("Reading")


def write_a_part(phone: Handset) -> None:
    """A part by the case's own page."""
    phone.go(f"#/case/{phone.page.url.rpartition('/')[2]}")
    phone.page.get_by_role("button", name=re.compile("part", re.IGNORECASE)).first.click()
    sheet = phone.page.locator("dialog[open]")
    sheet.get_by_label("Part", exact=True).select_option("cooling.fan_module")
    sheet.get_by_role("button", name="Save the part").click()
    expect(phone.page.locator(".toast")).to_contain_text("Part")


def test_the_services_answer_comes_back_without_moving_the_step(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ready_for_the_air(OFTEN_TIMES)
    phone.page.context.set_offline(True)
    phone.ask(OFTEN[0])
    expect(phone.page.locator(".notice.warn").first).to_contain_text("from this phone's copy")
    heading = phone.next_step.first
    heading.click(trial=True)
    before, words = heading.bounding_box(), heading.inner_text()
    phone.page.context.set_offline(False)
    expect(phone.page.locator(".notice.good").first).to_contain_text("Signal is back", timeout=20_000)
    after = heading.bounding_box()
    assert before and after
    assert (after["y"], heading.inner_text()) == (before["y"], words)
