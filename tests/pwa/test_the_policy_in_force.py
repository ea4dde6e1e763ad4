"""The strict policy holds in a real browser: every screen keeps to it, and what breaks it is stopped and heard."""

from __future__ import annotations

from collections.abc import Callable

from handset import Handset
from playwright.sync_api import Page
from screens import screens

LISTEN = """
window.broken = [];
document.addEventListener('securitypolicyviolation', each => window.broken.push(each.effectiveDirective));
"""
TRY = {
    "an inline script": "const it = document.createElement('script'); it.textContent = 'window.ran = 1';"
    " document.head.append(it)",
    "an inline style": "const it = document.createElement('style'); it.textContent = 'body { color: red }';"
    " document.head.append(it)",
    "an attribute that runs": "const it = document.createElement('div');"
    " it.setAttribute('onclick', 'window.ran = 1'); document.body.append(it); it.click()",
    "a script from elsewhere": "const it = document.createElement('script');"
    " it.src = 'https://elsewhere.example/x.js'; document.head.append(it)",
    "a picture from elsewhere": "const it = new Image(); it.src = 'https://elsewhere.example/x.png'",
    "a frame from elsewhere": "const it = document.createElement('iframe');"
    " it.src = 'https://elsewhere.example/'; document.body.append(it)",
}


def broken(page: Page) -> list[str]:
    """What the browser reported of this page."""
    return list(page.evaluate("() => window.broken"))


def test_every_screen_keeps_to_the_policy(signed_in: Callable[..., Handset]) -> None:
    phone = signed_in("manager")
    phone.page.add_init_script(LISTEN)
    phone.page.reload()
    seen = {name: broken(phone.page) for name in screens(phone)}
    assert len(seen) > 5 and not any(seen.values()), seen
    assert phone.complaints == []


def test_what_breaks_the_policy_is_stopped_and_reported(signed_in: Callable[..., Handset]) -> None:
    phone = signed_in()
    phone.page.add_init_script(LISTEN)
    phone.page.reload()
    for what, script in TRY.items():
        before = len(broken(phone.page))
        phone.page.evaluate(f"() => {{ {script} }}")
        phone.page.wait_for_function(f"() => window.broken.length > {before}", timeout=10_000)
        assert phone.page.evaluate("() => window.ran") is None, what


def test_the_only_cookie_is_a_note_that_opens_nothing(signed_in: Callable[..., Handset]) -> None:
    phone = signed_in()
    phone.wait_for_copy(1)
    cookies = phone.page.context.cookies()
    assert {each["name"] for each in cookies} <= {"baylore_held"}
    assert all(each["sameSite"] == "Strict" for each in cookies)
    held = phone.page.evaluate("() => document.cookie")
    answer = phone.page.request.get(f"{phone.address}/api/me", headers={"Cookie": held})
    assert answer.status == 401
