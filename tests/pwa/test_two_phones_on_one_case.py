"""Two phones work on one case without signal: all of it is there, and a field both changed is asked."""

from __future__ import annotations

from collections.abc import Callable

from handset import Handset
from playwright.sync_api import Locator, expect
from workshop import Workshop

Phone = Callable[..., Handset]
VOLTS = {"Blue phone": ("11.9", "12.1"), "Red phone": ("12.3", "12.6")}
WORDS = {"Blue phone": "no crank when hot", "Red phone": "no crank after rain"}


def type_number(sheet: Locator, digits: str) -> None:
    """Press the keys of a number."""
    for digit in digits:
        sheet.get_by_role("button", name="Point" if digit == "." else digit, exact=True).click()


def write_reading(phone: Handset, volts: str) -> None:
    """The battery's voltage, on the case's own page."""
    phone.page.get_by_role("button", name="Reading", exact=True).click()
    sheet = phone.page.locator("dialog[open]")
    sheet.get_by_label("What was measured").select_option("batt_rest")
    type_number(sheet, volts)
    sheet.get_by_role("button", name="Save", exact=True).click()
    expect(sheet).to_have_count(0)


def write_outcome(phone: Handset, case: str) -> None:
    """The first outcome of the proposed test."""
    phone.go(f"#/advice/case/{case}")
    phone.tap_outcome()
    phone.go(f"#/case/{case}")


def change_words(phone: Handset, words: str) -> None:
    """The complaint put otherwise, on the sheet that shows all fields of the case."""
    phone.page.get_by_role("button", name="Change the words, car or codes").click()
    sheet = phone.page.locator("dialog[open]")
    sheet.get_by_label("What is wrong?").fill(words)
    sheet.get_by_role("button", name="Save", exact=True).click()
    expect(sheet).to_have_count(0)


def ready(phone: Handset, case: str) -> None:
    """The case is on this phone, and the signal is gone."""
    phone.wait_for_worker()
    phone.wait_until_in_step()
    phone.page.wait_for_timeout(300)
    phone.page.context.set_offline(True)
    phone.go(f"#/case/{case}")
    expect(phone.page.get_by_role("heading", name="no crank")).to_be_visible()


def connect(phone: Handset, unsent: int) -> None:
    """Signal is back, and all is sent but what somebody must decide."""
    phone.page.context.set_offline(False)
    expect(phone.page.locator(f"[data-unsent='{unsent}']")).to_be_visible(timeout=20_000)


def test_two_phones_on_one_case_lose_nothing_and_a_field_both_changed_is_asked(
    signed_in: Phone, workshop: Workshop
) -> None:
    case = workshop.api.post("/api/cases", json={"complaint": "no crank"}).raise_for_status().json()["id"]
    phones = [signed_in("technician", name="Blue phone"), signed_in("manager", name="Red phone")]
    for phone, (name, volts) in zip(phones, VOLTS.items(), strict=True):
        ready(phone, case)
        write_outcome(phone, case)
        for each in volts:
            write_reading(phone, each)
        change_words(phone, WORDS[name])
    connect(phones[0], 0)
    connect(phones[1], 1)
    stored = workshop.api.get(f"/api/cases/{case}").json()
    values = [each["value"] for each in stored["readings"]]
    assert sorted(values) == [11.9, 12.1, 12.3, 12.6]
    for volts in VOLTS.values():
        assert [each for each in values if str(each) in volts] == [float(each) for each in volts]
    assert len(stored["tests"]) == 2
    assert stored["complaint"] == WORDS["Blue phone"]
    settle(phones[1], workshop, case)


def settle(phone: Handset, workshop: Workshop, case: str) -> None:
    """Both words are shown, and the one chosen stays."""
    asked = phone.page.get_by_role("alert").filter(has_text="Somebody else changed this too: Complaint")
    for words in WORDS.values():
        expect(asked).to_contain_text(words)
    asked.get_by_role("button", name="Keep mine").click()
    phone.wait_until_sent()
    assert workshop.api.get(f"/api/cases/{case}").json()["complaint"] == WORDS["Red phone"]
    phone.go(f"#/case/{case}")
    expect(phone.page.locator(".line > li")).to_have_count(6)
