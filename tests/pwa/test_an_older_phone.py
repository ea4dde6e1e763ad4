"""An app older than the service: it says so, keeps what it wrote, and the update never costs a word being typed."""

from __future__ import annotations

import json
from collections.abc import Callable

from handset import Handset
from playwright.sync_api import BrowserContext, Route, expect
from workshop import Workshop

Phone = Callable[..., Handset]
COMPLAINT = "hums in fifth, gone in neutral"
TYPED = "smell of fuel after filling up"
REFUSED = {
    "type": "/problems/outdated-client",
    "title": "The client is older than the service",
    "status": 409,
    "detail": "this client writes form 1, this service reads form 2 and newer",
    "remedy": "update the client",
}


def make_newer(context: BrowserContext) -> dict[str, bool]:
    """Let the service answer as one that reads only newer phones, for as long as `newer` holds."""
    held = {"newer": True}

    def answer(route: Route) -> None:
        if not held["newer"]:
            route.continue_()
            return
        if route.request.method == "GET":
            told = route.fetch()
            route.fulfill(response=told, headers={**told.headers, "baylore-least-format": "2"})
            return
        kind = {"content-type": "application/problem+json", "baylore-least-format": "2"}
        route.fulfill(status=409, headers=kind, body=json.dumps(REFUSED))

    context.route("**/api/**", answer)
    return held


def test_an_older_app_says_so_and_keeps_all_until_it_is_updated(signed_in: Phone, workshop: Workshop) -> None:
    phone = signed_in()
    page = phone.page
    phone.ready_for_the_air(1)
    held = make_newer(page.context)
    phone.ask(COMPLAINT)
    phone.tap_outcome()
    notice = page.get_by_role("status").filter(has_text="This app is older than the shop's service")
    expect(notice).to_contain_text("2 steps wait safely")
    assert workshop.cases_about(COMPLAINT) == []
    phone.go("#/ask")
    page.get_by_label("What is wrong?").fill(TYPED)
    page.evaluate("window.sameVisit = true")
    notice.get_by_role("button", name="Update now").click()
    page.wait_for_function("() => !window.sameVisit")
    held["newer"] = False
    expect(page.get_by_label("What is wrong?")).to_be_visible()
    # A sending that was under way when the signal came may still be told that the app is older.
    page.evaluate("setInterval(() => dispatchEvent(new Event('online')), 1000)")
    phone.wait_until_sent()
    expect(notice).to_have_count(0)
    expect(page.get_by_label("What is wrong?")).to_have_value(TYPED)
    assert [len(each["tests"]) for each in workshop.cases_about(COMPLAINT)] == [1]
