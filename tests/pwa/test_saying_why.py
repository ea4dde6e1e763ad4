"""What a member says beside outcomes: left out, wrong, repaired without a part, written down wrongly."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

from handset import Handset
from past_cases import COLD_THEN_WARM
from playwright.sync_api import Locator, expect
from workshop import Workshop

Phone = Callable[..., Handset]


def stored(workshop: Workshop, phone: Handset) -> dict[str, Any]:
    """The case of the present place as the service has it."""
    phone.wait_until_sent()
    answer = workshop.api.get(f"/api/cases/{phone.page.url.rpartition('/')[2]}")
    found: dict[str, Any] = answer.raise_for_status().json()
    return found


def on_a_test(signed_in: Phone, words: str) -> Handset:
    """A phone that has asked and is shown a test."""
    phone = signed_in()
    phone.ask(words)
    phone.settle_on_a_test()
    return phone


def first_cause(phone: Handset) -> Locator:
    """The slip of the likeliest cause."""
    return phone.page.locator("#causes ol > li").first


def test_a_test_left_out_for_a_reason_is_not_next_and_undo_brings_it_back(
    signed_in: Phone, workshop: Workshop
) -> None:
    phone = on_a_test(signed_in, f"{COLD_THEN_WARM}, no gauges here")
    left_out = phone.next_step.inner_text()
    phone.page.get_by_role("button", name="Not doing this test").click()
    phone.page.get_by_role("dialog").get_by_role("button", name="No tool for it").click()
    expect(phone.next_step).not_to_have_text(left_out)
    assert [each["because"] for each in stored(workshop, phone)["skipped"]] == ["no tool"]
    phone.page.get_by_role("button", name="Undo").click()
    expect(phone.page.locator(".toast")).to_contain_text("Taken back")
    assert stored(workshop, phone)["skipped"] == []


def test_wrong_because_is_one_tap_and_one_choice_and_lowers_the_cause(
    signed_in: Phone, workshop: Workshop
) -> None:
    phone = on_a_test(signed_in, f"{COLD_THEN_WARM}, clutch was done last month")
    blamed = first_cause(phone).locator(".slip-title").inner_text()
    first_cause(phone).get_by_role("button", name="Wrong… because").click()
    phone.page.get_by_role("dialog").get_by_role("button", name="Proved good").click()
    expect(first_cause(phone).locator(".slip-title")).not_to_have_text(blamed)
    assert [each["because"] for each in stored(workshop, phone)["objections"]] == ["proved good"]


def test_an_objection_stands_on_the_case_and_can_be_taken_back(signed_in: Phone, workshop: Workshop) -> None:
    phone = on_a_test(signed_in, f"{COLD_THEN_WARM}, says the cousin")
    first_cause(phone).get_by_role("button", name="Wrong… because").click()
    phone.page.get_by_role("dialog").get_by_role("button", name="Already renewed").click()
    expect(phone.page.locator(".toast")).to_contain_text("hold it to be wrong")
    phone.go(f"#/case/{phone.page.url.rpartition('/')[2]}")
    step = phone.page.locator("ol.line > li", has_text="Held to be wrong")
    expect(step).to_contain_text("Already renewed")
    step.get_by_role("button", name="Take back").click()
    step.get_by_role("button", name="Take back").click()
    expect(step).to_have_count(0)
    assert stored(workshop, phone)["objections"] == []


def test_why_opens_on_what_moved_the_cause_and_on_the_cases_that_speak_for_it(signed_in: Phone) -> None:
    phone = on_a_test(signed_in, COLD_THEN_WARM)
    why = phone.page.locator("#causes details", has_text="Your cases that speak for it").first
    why.locator("summary").click()
    expect(why.get_by_text(re.compile(r"up [\d.]+ times|down to 1 in|a little")).first).to_be_visible()
    why.get_by_role("link").first.click()
    expect(phone.page.locator(".tag")).to_contain_text("Closed")


def test_a_repair_that_changed_nothing_is_a_step(signed_in: Phone, workshop: Workshop) -> None:
    phone = on_a_test(signed_in, f"{COLD_THEN_WARM}, gap set already")
    phone.tap_outcome()
    phone.go(f"#/case/{phone.page.url.rpartition('/')[2]}")
    phone.page.get_by_role("button", name="Repaired").click()
    phone.page.locator("dialog .chip").first.click()
    phone.page.get_by_role("dialog").get_by_role("button", name="No change").click()
    expect(phone.page.locator("ol.line > li", has_text="Repaired without a new part")).to_contain_text(
        "No change"
    )
    assert [each["result"] for each in stored(workshop, phone)["repairs"]] == ["no change"]


def test_a_half_cure_asks_what_stayed_wrong(signed_in: Phone, workshop: Workshop) -> None:
    phone = on_a_test(signed_in, f"{COLD_THEN_WARM}, a little better now")
    phone.tap_outcome()
    phone.go(f"#/case/{phone.page.url.rpartition('/')[2]}")
    phone.page.get_by_role("button", name="Part tried").click()
    phone.page.get_by_label("Part", exact=True).select_option(index=1)
    phone.page.get_by_role("button", name="Save the part").click()
    phone.page.get_by_label("What it did").select_option("partly")
    phone.page.get_by_label("What stayed wrong").fill("still warm at idle")
    phone.page.get_by_role("button", name="Save", exact=True).click()
    expect(phone.page.get_by_text("still warm at idle")).to_be_visible()
    assert [each["note"] for each in stored(workshop, phone)["parts"]] == ["still warm at idle"]


def test_an_outcome_written_down_wrongly_is_put_right_with_a_way_back(
    signed_in: Phone, workshop: Workshop
) -> None:
    phone = on_a_test(signed_in, f"{COLD_THEN_WARM}, wrong stub tapped")
    phone.tap_outcome()
    phone.go(f"#/case/{phone.page.url.rpartition('/')[2]}")
    before = stored(workshop, phone)["tests"][0]
    phone.page.get_by_role("button", name="Put right").first.click()
    phone.page.locator("dialog .stub[aria-pressed='false']").last.click()
    expect(phone.page.locator(".toast")).to_contain_text("Put right")
    after = stored(workshop, phone)["tests"][0]
    assert (after["id"], after["by"], after["at"]) == (before["id"], before["by"], before["at"])
    assert after["outcome"] != before["outcome"]
    phone.page.get_by_role("button", name="Undo").click()
    expect(phone.page.locator(".toast")).to_contain_text("As it was")
    assert stored(workshop, phone)["tests"][0]["outcome"] == before["outcome"]


def test_not_seen_today_asks_when_it_shows_and_the_case_keeps_it(
    signed_in: Phone, workshop: Workshop
) -> None:
    phone = signed_in()
    phone.ask(f"{COLD_THEN_WARM}, fine while we look")
    phone.settle_on_a_test()
    phone.page.get_by_role("switch", name="Fault not seen today").click()
    phone.page.get_by_role("group", name="It shows when").get_by_role(
        "button", name="Hot, after a drive"
    ).click()
    phone.tap_outcome()
    case = stored(workshop, phone)
    assert (case["comes_and_goes"], case["shows_when"]) == (True, ["hot"])


def test_a_repair_without_signal_arrives_exactly_once(signed_in: Phone, workshop: Workshop) -> None:
    phone = on_a_test(signed_in, f"{COLD_THEN_WARM}, under the ramp")
    phone.tap_outcome()
    case = phone.page.url.rpartition("/")[2]
    phone.wait_until_sent()
    phone.go(f"#/case/{case}")
    phone.wait_for_worker()
    phone.page.context.set_offline(True)
    phone.page.get_by_role("button", name="Repaired").click()
    phone.page.get_by_label("The cause").select_option("aircon.clutch.worn")
    phone.page.get_by_role("dialog").get_by_role("button", name="Cured").click()
    expect(phone.page.locator("[data-unsent='1']")).to_be_visible()
    phone.page.context.set_offline(False)
    repairs = stored(workshop, phone)["repairs"]
    assert [(each["cause"], each["result"]) for each in repairs] == [("aircon.clutch.worn", "cured")]
