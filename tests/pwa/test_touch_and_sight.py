"""Every screen under a glove and in the sun: size of targets, contrast, width, a quiet console."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import pytest
from handset import Handset
from measures import MAIN, overflow_px, small_targets, weak_text
from past_cases import COLD_THEN_WARM
from playwright.sync_api import Page, expect
from screens import screens
from workshop import Workshop

TARGET_PX = 48
MAIN_PX = 56
TEXT_RATIO = 7.0
SIZES = ({"width": 390, "height": 844}, {"width": 360, "height": 640})


@pytest.mark.parametrize(
    ("size", "scheme", "locale"),
    [*product(SIZES, ("light", "dark"), ("en-US",)), (SIZES[-1], "light", "es-ES")],
    ids=lambda one: f"{one['width']}x{one['height']}" if isinstance(one, dict) else one,
)
def test_every_screen_is_wide_enough_legible_and_fit_for_gloves(
    signed_in: Callable[..., Handset], size: dict[str, int], scheme: str, locale: str
) -> None:
    phone = signed_in("manager", viewport=size, color_scheme=scheme, locale=locale)
    faults: dict[str, object] = {}
    for name in screens(phone):
        found = [*small_targets(phone.page, TARGET_PX), *small_targets(phone.page, MAIN_PX, MAIN)]
        found += [*weak_text(phone.page, TEXT_RATIO)]
        if found or overflow_px(phone.page):
            faults[name] = [*found, f"wider by {overflow_px(phone.page)} px"]
    assert faults == {}
    assert phone.complaints == []


def test_the_sign_in_screen_is_fit_for_gloves_too(new_page: Callable[..., Page], workshop: Workshop) -> None:
    page = new_page()
    page.goto(f"{workshop.address}/#/join/")
    expect(page.get_by_label("Sign-in link or code")).to_be_visible()
    assert small_targets(page, TARGET_PX) == []
    assert weak_text(page, TEXT_RATIO) == []


def test_the_main_act_of_a_test_lies_in_reach_of_the_thumb(signed_in: Callable[..., Handset]) -> None:
    phone = signed_in()
    phone.ask(COLD_THEN_WARM)
    last = phone.page.locator(".tag .stub").last.bounding_box()
    assert last is not None
    assert 844 / 2 < last["y"] + last["height"] <= 844


def test_the_keyboard_reaches_the_main_act_and_all_has_a_name(
    signed_in: Callable[..., Handset],
) -> None:
    phone = signed_in()
    phone.page.get_by_label("What is wrong?").fill("no crank, one click")
    nameless = phone.page.evaluate(
        """[...document.querySelectorAll('button, a[href], input, textarea, select')]
        .filter(each => !(each.innerText || each.ariaLabel || each.labels?.length)).length"""
    )
    assert nameless == 0
    for _ in range(40):
        phone.page.keyboard.press("Tab")
        if phone.page.evaluate("document.activeElement.innerText") == "Ask the memory":
            return
    pytest.fail("forty tabs did not reach the main button")
