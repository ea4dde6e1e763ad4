"""Work without signal: asked, tested, closed, reloaded, sent once."""

from __future__ import annotations

from collections.abc import Callable

from handset import Handset
from past_cases import COLD_THEN_WARM, OFTEN_TIMES
from playwright.sync_api import expect
from workshop import Workshop

Phone = Callable[..., Handset]


def test_a_job_done_in_airplane_mode_arrives_exactly_once(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    phone.ready_for_the_air(OFTEN_TIMES)
    complaint = f"{COLD_THEN_WARM}, behind the ramp"
    phone.page.context.set_offline(True)
    phone.ask(complaint)
    expect(phone.page.locator(".notice.warn").first).to_contain_text("from this phone's copy")
    expect(phone.page.get_by_role("link", name="clutch gap").first).to_be_visible()
    phone.tap_outcome()
    phone.close_as("clutch gap")
    assert phone.unsent() >= 3
    phone.page.reload()
    expect(phone.page.locator(".tag")).to_contain_text("Closed")
    assert workshop.cases_about(complaint) == []
    phone.page.context.set_offline(False)
    phone.wait_until_sent()
    stored = workshop.cases_about(complaint)
    assert [(each["state"], len(each["tests"])) for each in stored] == [("closed", 1)]


def test_no_signal_and_the_unsent_count_are_in_sight(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ready_for_the_air(OFTEN_TIMES)
    phone.page.context.set_offline(True)
    phone.ask("brake pedal soft in the morning")
    phone.page.get_by_role("button", name="Another test").click()
    phone.page.locator("dialog .stub").first.click()
    phone.page.locator("dialog .stub").last.click()
    expect(phone.page.locator("header .mark")).to_contain_text("Offline")
    expect(phone.page.locator("header .mark")).to_contain_text("unsent")


def test_what_to_ask_on_the_call_is_worked_out_without_signal(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ready_for_the_air(OFTEN_TIMES)
    page = phone.page
    page.context.set_offline(True)
    phone.go("#/ask")
    page.get_by_label("What is wrong?").fill("it will not start, sometimes")
    question = page.get_by_role("group", name="Click or silence when you turn the key?")
    expect(question).to_be_visible(timeout=30_000)
    question.get_by_role("button", name="Silence").click()
    expect(question).to_have_count(0)


def test_a_draft_survives_a_reload(signed_in: Phone) -> None:
    phone = signed_in()
    words = "whines in third gear only when cold"
    phone.page.get_by_label("What is wrong?").fill(words)
    phone.page.wait_for_timeout(400)
    phone.page.reload()
    expect(phone.page.get_by_label("What is wrong?")).to_have_value(words)


def test_a_draft_survives_a_killed_tab(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    words = "clonks over speed humps, left front"
    phone.page.get_by_label("What is wrong?").fill(words)
    phone.page.wait_for_timeout(400)
    context = phone.page.context
    phone.page.close()
    fresh = context.new_page()
    fresh.goto(workshop.address)
    expect(fresh.get_by_label("What is wrong?")).to_have_value(words)


def test_a_new_worker_never_reloads_over_a_draft(signed_in: Phone) -> None:
    phone = signed_in()
    phone.wait_for_worker()
    phone.page.get_by_label("What is wrong?").fill("smell of fuel after filling up")
    phone.page.evaluate("window.sameVisit = true")
    phone.page.evaluate("navigator.serviceWorker.dispatchEvent(new Event('controllerchange'))")
    phone.page.wait_for_timeout(300)
    assert phone.page.evaluate("window.sameVisit === true")
    expect(phone.page.get_by_label("What is wrong?")).to_have_value("smell of fuel after filling up")


def test_a_cleared_store_is_noticed_and_says_what_had_not_been_sent(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ready_for_the_air(OFTEN_TIMES)
    phone.page.context.set_offline(True)
    phone.ask("hums at speed, louder in left bends")
    phone.tap_outcome()
    unsent = phone.unsent()
    assert unsent >= 1
    session = phone.page.context.new_cdp_session(phone.page)
    origin = phone.page.evaluate("location.origin")
    phone.page.goto("about:blank")
    session.send("Storage.clearDataForOrigin", {"origin": origin, "storageTypes": "indexeddb,local_storage"})
    phone.page.goto(f"{origin}/")
    notice = phone.page.locator(".notice.bad")
    expect(notice).to_contain_text("cleared what was kept on this phone")
    expect(notice).to_contain_text(f"{unsent} step")


def test_signing_out_by_choice_is_not_taken_for_a_loss(signed_in: Phone) -> None:
    phone = signed_in()
    phone.wait_until_in_step()
    phone.go("#/shop")
    phone.page.get_by_role("button", name="Sign out").click()
    phone.page.get_by_role("button", name="Sign out").last.click()
    expect(phone.page.get_by_label("Name of this phone")).to_be_visible()
    phone.page.reload()
    expect(phone.page.get_by_label("Name of this phone")).to_be_visible()
    expect(phone.page.locator(".notice")).to_have_count(0)


def test_the_shop_says_what_the_copy_takes(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ready_for_the_air(OFTEN_TIMES)
    phone.go("#/shop")
    expect(phone.page.get_by_text("On this phone:")).to_contain_text("cases")
    expect(phone.page.get_by_text("On this phone:")).to_contain_text("MB")


def test_words_on_a_sheet_survive_a_killed_page_but_not_their_cancelling(
    signed_in: Phone, workshop: Workshop
) -> None:
    case = workshop.api.post("/api/cases", json={"complaint": "squeals"}).raise_for_status().json()["id"]
    phone = signed_in()
    phone.wait_until_in_step()
    phone.go(f"#/case/{case}")
    change = phone.page.get_by_role("button", name="Change the words, car or codes")
    words = phone.page.locator("dialog[open]").get_by_label("What is wrong?")
    change.click()
    words.fill("squeals when backing out")
    phone.page.reload()
    change.click()
    expect(words).to_have_value("squeals when backing out")
    phone.page.get_by_role("button", name="Cancel").click()
    change.click()
    expect(words).to_have_value("squeals")
