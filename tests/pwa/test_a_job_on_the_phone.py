"""One job from the sign-in link to the case found again."""

from __future__ import annotations

from collections.abc import Callable

from handset import Handset
from past_cases import COLD_THEN_WARM
from playwright.sync_api import Page, expect
from workshop import Workshop

Phone = Callable[..., Handset]


def test_a_phone_joins_by_its_link_and_the_link_works_once(
    signed_in: Phone, new_page: Callable[..., Page], workshop: Workshop
) -> None:
    link = workshop.link_for("technician")
    Handset(new_page(), workshop.address).join(link)
    second = new_page()
    second.goto(link)
    second.get_by_label("Name of this phone").fill("Other phone")
    second.get_by_role("button", name="Start").click()
    expect(second.get_by_role("alert")).to_contain_text("link")


def test_the_past_case_and_its_correction_are_shown_for_the_complaint(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ask("a/c cold thn warm after 20 min")
    before = phone.page.locator("#before")
    expect(before.locator("a").first).to_contain_text("clutch gap set with shims")
    expect(before.locator(".reason").first).to_be_visible()


def test_three_outcomes_then_a_close_is_found_again(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    complaint = "ac goes warm on the motorway, silver estate"
    phone.ask(complaint)
    for _ in range(3):
        phone.tap_outcome()
    close_as(phone, "Something else", own="mouse nest on the condenser")
    phone.wait_until_sent()
    stored = workshop.cases_about(complaint)
    assert [(each["state"], len(each["tests"])) for each in stored] == [("closed", 3)]
    assert stored[0]["cause_title"] == "mouse nest on the condenser"
    phone.go("#/cases")
    phone.page.get_by_label("Find a case").fill("mouse nest condenser")
    expect(phone.page.locator("ul[aria-label=Cases] a").first).to_contain_text("mouse nest")


def close_as(phone: Handset, cause: str, own: str = "") -> None:
    """Close the open case of the present place."""
    case = phone.page.url.rpartition("/")[2]
    phone.go(f"#/close/{case}")
    phone.page.get_by_role("button", name=cause).click()
    if own:
        phone.page.get_by_label("What it was, in your words").fill(own)
    phone.page.get_by_role("button", name="Close the case").click()
    expect(phone.page.locator(".tag")).to_contain_text("Closed")


def test_an_outcome_changes_the_next_step_and_undo_brings_it_back(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ask(COLD_THEN_WARM)
    first = phone.next_step.inner_text()
    phone.tap_outcome()
    expect(phone.next_step).not_to_have_text(first)
    phone.page.get_by_role("button", name="Undo").click()
    expect(phone.next_step).to_have_text(first)


def test_not_solved_closes_as_easily_as_solved(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    complaint = "rattles now and then, customer in a hurry"
    phone.ask(complaint)
    phone.tap_outcome()
    phone.go(f"#/close/{phone.page.url.rpartition('/')[2]}")
    phone.page.get_by_role("button", name="No fault found").click()
    phone.page.get_by_role("button", name="Close as not solved").click()
    expect(phone.page.locator(".tag")).to_contain_text("Not solved")
    phone.wait_until_sent()
    assert [each["unresolved_reason"] for each in workshop.cases_about(complaint)] == ["no fault found"]


def test_a_refused_value_is_said_at_its_field_with_the_way_out(signed_in: Phone) -> None:
    phone = signed_in()
    phone.page.get_by_label("Add a code").fill("X9999")
    problem = phone.page.locator(".field.wrong .problem")
    expect(problem).to_contain_text("P0303")
    expect(phone.page.get_by_label("Add a code")).to_have_attribute("aria-invalid", "true")
