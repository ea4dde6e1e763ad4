"""What was mended can be taken back with one tap, and kept as the shop's own word with another."""

from __future__ import annotations

import re
from collections.abc import Callable

from handset import Handset
from playwright.sync_api import expect
from workshop import Workshop

Phone = Callable[..., Handset]


def test_no_as_typed_asks_again_and_the_word_can_be_kept(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ask("compresor howls")
    phone.settle_on_a_test()
    back = phone.page.get_by_role("button", name="No, as typed: compresor")
    back.scroll_into_view_if_needed()
    back.click()
    expect(phone.page.get_by_text("is taken as typed")).to_be_visible()
    expect(back).to_have_count(0)
    phone.page.get_by_role("button", name="Keep as our word: compresor").click()
    expect(phone.page.get_by_text("Kept as a word of ours")).to_be_visible()
    phone.ask("compresor howls again")
    expect(phone.page.get_by_role("button", name="No, as typed: compresor")).to_have_count(0)


def test_what_was_taken_as_typed_can_be_mended_again(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ask("altenator whines")
    back = phone.page.get_by_role("button", name="No, as typed: altenator")
    back.click()
    phone.page.get_by_role("button", name="Undo: read altenator as before").click()
    expect(back).to_be_visible()


def test_the_word_stays_as_typed_in_the_case(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    phone.ask("condensr fan still, one click")
    phone.page.get_by_role("button", name="No, as typed: condensr").click()
    expect(phone.page.get_by_text("is taken as typed")).to_be_visible()
    phone.tap_outcome()
    phone.wait_until_sent()
    (case,) = workshop.cases_about("condensr fan still, one click")
    assert case["as_typed"] == ["condensr"]
    advice = workshop.api.get(f"/api/cases/{case['id']}/advice").json()
    assert "condensr" not in [each["typed"] for each in advice["read_as"]]


def test_without_signal_the_slip_is_told_and_taken_back_too(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    phone.wait_for_copy(len(workshop.api.get("/api/cases?limit=100").json()["cases"]))
    phone.wait_until_in_step()
    phone.page.context.set_offline(True)
    phone.ask("overheets in traffik")
    back = phone.page.get_by_role("button", name="No, as typed: traffik")
    back.click()
    expect(phone.page.get_by_text("is taken as typed")).to_be_visible()
    expect(back).to_have_count(0)
    phone.page.context.set_offline(False)


def test_a_word_of_ours_stands_for_a_plain_one_on_every_phone(signed_in: Phone) -> None:
    phone = signed_in()
    phone.go("#/shop")
    phone.page.get_by_text("Add a word of ours").click()
    phone.page.get_by_label("The word").fill("Tin worm")
    phone.page.get_by_label("Stands for").fill("rust")
    phone.page.get_by_role("button", name="Add the word").click()
    expect(phone.page.get_by_text("“tin worm” is a word of ours now")).to_be_visible()
    other = signed_in("manager", name="Office phone")
    other.ask("tin worm in the floor")
    expect(other.page.get_by_text("tin worm stands for rust")).to_be_visible()
    other.go("#/shop")
    words = other.page.get_by_role("region", name="Words of ours")
    words.locator("summary", has_text=re.compile(r"One word|All \d+ words")).click()
    slip = words.locator("li", has_text="tin worm")
    expect(slip).to_contain_text("stands for rust")
    slip.get_by_role("button", name="Take it out").click()
    slip.get_by_role("button", name="Take it out").click()
    expect(slip).to_have_count(0)
