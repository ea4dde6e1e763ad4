"""Every screen of the phone in turn, filled, for what is measured of all of them."""

from __future__ import annotations

from collections.abc import Iterator

from handset import Handset
from past_cases import COLD_THEN_WARM, OFTEN_TIMES
from playwright.sync_api import expect


def screens(phone: Handset) -> Iterator[str]:
    """Every screen in turn, by name, filled."""
    page = phone.page
    yield "ask"
    phone.wait_for_copy(OFTEN_TIMES)
    yield "cases"
    phone.ask(f"{COLD_THEN_WARM}, 2011, 12.1 V at the battery")
    yield "advice"
    phone.settle_on_a_test()
    page.get_by_text(phone.says("nextTag.howStepByStep")).click()
    page.locator("#causes summary").first.click()
    yield "advice with its folds open"
    yield from sheets(phone)
    phone.tap_outcome()
    yield "advice after an outcome"
    case = page.url.rpartition("/")[2]
    page.get_by_role("button", name=phone.says("advice.aReading")).click()
    expect(page.get_by_role("dialog")).to_be_visible()
    page.get_by_label(phone.says("readingSheet.whatWasMeasured")).select_option("ac_static")
    yield "reading"
    page.get_by_role("button", name=phone.says("ui.cancel")).click()
    phone.go(f"#/case/{case}")
    yield "case"
    page.get_by_role("button", name=phone.says("caseFile.partTried")).click()
    expect(page.get_by_role("dialog")).to_be_visible()
    yield "part"
    page.get_by_role("button", name=phone.says("ui.cancel")).click()
    page.get_by_role("button", name=phone.says("caseFile.repaired")).click()
    expect(page.get_by_role("dialog")).to_be_visible()
    yield "repair"
    page.get_by_role("button", name=phone.says("ui.cancel")).click()
    page.get_by_role("button", name=phone.says("caseStep.putRight")).first.click()
    expect(page.get_by_role("dialog")).to_be_visible()
    yield "put right"
    page.get_by_role("button", name=phone.says("ui.cancel")).click()
    phone.go(f"#/close/{case}")
    expect(page.locator(".chip.choice").nth(1)).to_be_visible()
    yield "close"
    yield from paperwork(phone, case)
    phone.go("#/failing")
    expect(page.locator(".at-head > span").nth(4)).to_be_visible()
    yield "failing, folded"
    phone.go("#/failing?at=rows")
    expect(page.locator(".verdict:visible").first).to_be_visible()
    yield "failing"
    phone.go("#/shop")
    page.get_by_role("button", name=phone.says("shopMembers.signInLinkForA")).first.click()
    expect(page.locator(".qr img")).to_be_visible()
    yield "shop"


def sheets(phone: Handset) -> Iterator[str]:
    """Each sheet that opens over the answer."""
    page = phone.page
    for name in (
        "nextTag.skipNotDoingThisTest",
        "cause.wrongBecause",
        "advice.anotherTest",
        "cause.addACauseOfOur",
    ):
        page.get_by_role("button", name=phone.says(name)).first.click()
        expect(page.get_by_role("dialog")).to_be_visible()
        yield name
        page.get_by_role("button", name=phone.says("ui.cancel")).click()
    page.get_by_role("switch", name=phone.says("away.faultNotSeenToday")).click()
    expect(page.get_by_role("group", name=phone.says("away.itShowsWhen"))).to_be_visible()
    yield "not seen today"


def paperwork(phone: Handset, case: str) -> Iterator[str]:
    """The sheets over an open case, and a closed case."""
    page = phone.page
    phone.go(f"#/case/{case}")
    for name in ("caseFile.note", "caseFile.changeTheWordsCarOr"):
        page.get_by_role("button", name=phone.says(name), exact=True).click()
        expect(page.get_by_role("dialog")).to_be_visible()
        yield f"case, {name}"
        page.get_by_role("button", name=phone.says("ui.cancel")).click()
    phone.go("#/cases")
    page.get_by_role("button", name=phone.says("cases.closed")).click()
    page.locator(f"[aria-label={phone.says('cases.cases')}] :is(li a, .row-open)").first.click()
    expect(page.get_by_role("region", name=phone.says("caseFacts.whatItWas"))).to_be_visible()
    yield "closed case"
    page.get_by_role("button", name=phone.says("caseFile.itCameBackReopen")).click()
    expect(page.get_by_role("dialog")).to_be_visible()
    yield "comeback"
    page.get_by_role("button", name=phone.says("ui.cancel")).click()
    phone.go(f"#/handover/{page.url.rpartition('/')[2]}")
    expect(page.get_by_role("article")).to_be_visible()
    yield "page for the customer"
