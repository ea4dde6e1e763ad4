"""A phone in the hand: the acts a technician does on the screen, by what they read there."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from playwright.sync_api import Locator, Page, expect
from spoken import catalogue

IGNORED = re.compile(r"Failed to load resource")

HAS_FIGURES = """
() => new Promise(tell => {
  const opened = indexedDB.open('baylore');
  opened.onsuccess = () => {
    const db = opened.result;
    const parts = db.transaction('reasoning').objectStore('reasoning').getAllKeys();
    parts.onsuccess = () => { db.close(); tell(parts.result.length === 2); };
  };
})
"""


@dataclass
class Handset:
    """One signed-in phone and everything its console complained about."""

    page: Page
    address: str
    complaints: list[str] = field(default_factory=list)
    language: str = "en"

    def says(self, text: str) -> str:
        """A text of the client, by its place in the catalogue, in the language of this phone."""
        return catalogue(self.language)[text]

    def listen(self) -> None:
        """Gather errors of the page; a request that found no signal is no error."""
        self.page.on("pageerror", lambda error: self.complaints.append(str(error)))
        self.page.on("console", self._heard)

    def _heard(self, message: object) -> None:
        kind, text = getattr(message, "type", ""), getattr(message, "text", "")
        if kind == "error" and not IGNORED.search(text):
            self.complaints.append(text)

    def join(self, link: str, name: str = "Blue phone") -> None:
        """Open the sign-in link and name the phone."""
        self.page.goto(link)
        self.page.get_by_label(self.says("join.nameOfThisPhone")).fill(name)
        self.page.get_by_role("button", name=self.says("join.start")).click()
        expect(self.page.get_by_label(self.says("ask.whatIsWrong"))).to_be_visible()

    def wait_for_copy(self, cases: int) -> None:
        """Stay until the shop's cases are on this phone."""
        self.go("#/cases")
        rows = self.page.locator(f"[aria-label={self.says('cases.cases')}] :is(li a, tbody tr)")
        expect(rows.nth(min(cases, 25) - 1)).to_be_visible(timeout=15_000)

    def wait_for_worker(self) -> None:
        """Stay until the worker holds the page, so that a reload needs no signal."""
        self.page.evaluate("navigator.serviceWorker.ready.then(() => true)")
        self.page.reload()
        expect(self.page.locator("nav.bottom")).to_be_visible()

    def wait_until_in_step(self) -> None:
        """Stay until cases and trade lists are all on this phone."""
        self.go("#/shop")
        expect(self.page.get_by_text(self.says("shop.lastInStep"))).to_be_visible(timeout=20_000)
        expect(self.page.get_by_role("button", name=self.says("shop.sendAndFetchNow"))).to_be_enabled()

    def go(self, place: str) -> None:
        """Another place of the app, without loading the page anew."""
        self.page.evaluate("place => { location.hash = place }", place)
        expect(self.page.locator("header.strip h1")).to_be_visible()

    def ask(self, complaint: str) -> None:
        """Type the complaint and ask the memory."""
        self.go("#/ask")
        self.page.get_by_label(self.says("ask.whatIsWrong")).fill(complaint)
        self.page.get_by_role("button", name=self.says("ask.askTheMemory")).click()
        expect(self.page.locator(".tag")).to_be_visible(timeout=15_000)

    @property
    def next_step(self) -> Locator:
        """The heading of the job tag."""
        return self.page.locator(".tag h2")

    def settle_on_a_test(self) -> None:
        """Pass over a question, and take the first other test where no test is proposed."""
        expect(self.page.locator(".busy")).to_have_count(0)
        word = self.page.locator(".tag .tag-do").first
        if word.inner_text().casefold() == self.says("nextTag.question").casefold():
            self.page.get_by_role("button", name=self.says("nextTag.noneOfTheseOrNot")).click()
        elif word.inner_text().casefold() != self.says("nextTag.test").casefold():
            self.page.get_by_role("region", name=self.says("adviceLists.otherTests")).get_by_role(
                "button"
            ).first.click()
        expect(word).to_have_text(re.compile(f"^{self.says('nextTag.test')}$", re.IGNORECASE))

    def tap_outcome(self) -> str:
        """Tap the first outcome, name the first part where one is asked for; gives the words tapped."""
        self.settle_on_a_test()
        stub = self.page.locator(".tag .stub").first
        words = stub.inner_text()
        stub.click()
        named = self.page.locator("dialog .button.wide")
        toast = self.page.locator(".toast")
        expect(named.first.or_(toast)).to_be_visible()
        if named.count():
            named.first.click()
        expect(toast).to_be_visible()
        return words

    def unsent(self) -> int:
        """The count in the strip on top."""
        return int(self.page.locator("[data-unsent]").get_attribute("data-unsent") or 0)

    def wait_until_sent(self) -> None:
        """Stay until nothing waits on this phone."""
        expect(self.page.locator("[data-unsent='0']")).to_be_visible(timeout=20_000)

    def ready_for_the_air(self, cases: int) -> None:
        """Stay until everything is here that work without signal needs, what it reckons with too."""
        self.wait_for_copy(cases)
        self.wait_for_worker()
        self.wait_until_in_step()
        self.page.wait_for_function(HAS_FIGURES)

    def close_as(self, words: str) -> None:
        """Close the job at hand with a cause found by these words in the list on the phone."""
        self.go(f"#/close/{self.page.url.rpartition('/')[2]}")
        self.page.get_by_label(self.says("close.findAnotherListedCause")).fill(words)
        self.page.locator(".chip.choice").first.click()
        self.page.get_by_role("button", name=self.says("close.closeTheCase")).click()
        expect(self.page.locator(".tag")).to_contain_text(self.says("words.closed"))
