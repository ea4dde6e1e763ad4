"""What was mended can be taken back with one tap, and kept as the shop's own word with another."""

from __future__ import annotations

from collections.abc import Callable

from handset import Handset
from playwright.sync_api import expect

Phone = Callable[..., Handset]


def test_no_as_typed_asks_again_and_the_word_can_be_kept(signed_in: Phone) -> None:
    phone = signed_in()
    phone.ask("compresor howls")
    phone.settle_on_a_test()
    back = phone.page.get_by_role("button", name="No, compresor as typed")
    back.scroll_into_view_if_needed()
    back.click()
    expect(phone.page.get_by_text("is taken as typed")).to_be_visible()
    expect(back).to_have_count(0)
    phone.page.get_by_role("button", name="Keep compresor as our word").click()
    expect(phone.page.get_by_text("Kept as a word of ours")).to_be_visible()
