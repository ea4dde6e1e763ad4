"""Words spoken into the phone: seen while they come, appended, and pulled apart like typed ones."""

from __future__ import annotations

from collections.abc import Callable

from handset import Handset
from playwright.sync_api import Page, expect

Phone = Callable[..., Handset]
LISTENER = """
window.SpeechRecognition = undefined;
window.webkitSpeechRecognition = class extends EventTarget {
  start() { window.listener = this; }
  stop() { this.dispatchEvent(new Event('end')); }
  abort() {}
};
window.say = (words, isFinal) => {
  const results = [Object.assign([{ transcript: words }], { isFinal })];
  window.listener.dispatchEvent(Object.assign(new Event('result'), { results, resultIndex: 0 }));
};
window.fail = error => {
  window.listener.dispatchEvent(Object.assign(new Event('error'), { error }));
  window.listener.stop();
};
"""
DEAF = "window.SpeechRecognition = window.webkitSpeechRecognition = undefined;"


def hear(page: Page, words: str, *, final: bool) -> None:
    """Let the fake listener hear something."""
    page.evaluate("([words, final]) => window.say(words, final)", [words, final])


def test_spoken_words_are_seen_appended_and_pulled_apart(signed_in: Phone) -> None:
    phone = signed_in(locale="en-GB")
    page = phone.page
    page.add_init_script(LISTENER)
    page.reload()
    field = page.get_by_label("What is wrong?")
    field.fill("no crank")
    page.get_by_role("button", name="Speak").click()
    assert page.evaluate("[listener.lang, listener.interimResults]") == ["en-GB", True]
    hear(page, "twelve point one", final=False)
    expect(page.locator(".dictate")).to_contain_text("twelve point one")
    expect(field).to_have_value("no crank")
    hear(page, "twelve point one volts at the module", final=True)
    hear(page, "code p zero three zero three", final=True)
    expect(field).to_have_value("no crank twelve point one volts at the module code p zero three zero three")
    heard = page.get_by_role("group", name="Heard in your words")
    expect(heard).to_contain_text("12.1 V")
    expect(heard).to_contain_text("P0303")
    page.get_by_role("button", name="Stop listening").click()
    page.get_by_role("button", name="Speak").click()
    page.evaluate("window.fail('not-allowed')")
    expect(page.locator(".dictate [role=alert]")).to_contain_text("not allowed here")
    expect(page.get_by_role("button", name="Speak")).to_be_visible()


def test_where_the_browser_does_not_listen_there_is_no_button(signed_in: Phone) -> None:
    phone = signed_in()
    phone.page.add_init_script(DEAF)
    phone.page.reload()
    expect(phone.page.get_by_label("What is wrong?")).to_be_visible()
    expect(phone.page.get_by_role("button", name="Speak")).to_have_count(0)
