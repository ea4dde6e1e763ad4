"""Every screen before axe-core, in each look, and under the Tab key alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from handset import Handset
from playwright.sync_api import Page, expect
from screens import screens
from sight import unreached, violations
from workshop import Workshop

LOOKS: dict[str, dict[str, Any]] = {
    "light": {"color_scheme": "light"},
    "dark": {"color_scheme": "dark"},
    "light, high contrast": {"color_scheme": "light", "contrast": "more"},
    "dark, high contrast": {"color_scheme": "dark", "contrast": "more"},
}


@pytest.mark.parametrize("look", LOOKS)
def test_no_screen_breaks_a_rule_of_axe(signed_in: Callable[..., Handset], look: str) -> None:
    phone = signed_in("manager", bypass_csp=True, reduced_motion="reduce", **LOOKS[look])
    found = {name: faults for name in screens(phone) if (faults := violations(phone.page))}
    assert found == {}


@pytest.mark.parametrize("look", LOOKS)
def test_the_sign_in_screen_breaks_no_rule_of_axe(
    new_page: Callable[..., Page], workshop: Workshop, look: str
) -> None:
    page = new_page(bypass_csp=True, reduced_motion="reduce", **LOOKS[look])
    page.goto(f"{workshop.address}/#/join/")
    expect(page.get_by_label("Sign-in link or code")).to_be_visible()
    assert violations(page) == []


def test_the_keyboard_reaches_every_control_of_every_screen(signed_in: Callable[..., Handset]) -> None:
    phone = signed_in("manager", reduced_motion="reduce")
    found = {name: left for name in screens(phone) if (left := unreached(phone.page))}
    assert found == {}


@pytest.mark.parametrize("contrast", ["no-preference", "more"])
def test_the_look_chosen_on_the_shop_screen_overrules_the_phone(
    signed_in: Callable[..., Handset], contrast: str
) -> None:
    phone = signed_in(color_scheme="light", contrast=contrast)
    look = "[document.documentElement.dataset.look, document.documentElement.dataset.contrast]"
    assert phone.page.evaluate(look) == ["light", "more" if contrast == "more" else "usual"]
    phone.go("#/shop")
    phone.page.get_by_role("group", name="Light or dark").get_by_role("button", name="Dark").click()
    phone.page.get_by_role("group", name="Contrast").get_by_role("button", name="High").click()
    phone.page.reload()
    expect(phone.page.get_by_role("region", name="How it looks")).to_be_visible()
    assert phone.page.evaluate(look) == ["dark", "more"]
