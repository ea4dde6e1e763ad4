"""Takes a picture of every screen, in each size, look and language, to be looked at by eye.

    python tests/pwa/pictures.py --into /tmp/pictures --sizes 360x640 --looks light --languages es

Needs what the browser tests need: Chromium, and the client built (`npm run build` in `pwa/`).
"""

from __future__ import annotations

import argparse
import re
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from itertools import product
from pathlib import Path
from typing import Any

from conftest import FLAGS, chromium
from handset import Handset
from playwright.sync_api import Browser, expect, sync_playwright
from screens import screens
from workshop import Workshop, open_workshop

LOCALES = {"en": "en-US", "es": "es-ES"}
LOOKS: dict[str, dict[str, Any]] = {
    "light": {"color_scheme": "light"},
    "dark": {"color_scheme": "dark"},
    "contrast": {"color_scheme": "light", "contrast": "more"},
    "dark-contrast": {"color_scheme": "dark", "contrast": "more"},
}
SIZES = ("390x844", "360x640", "1280x800")
LONG = (
    "Steering wheel shakes and the whole dashboard hums between 85 and 95 but only after it stood in the rain"
)
NOTHING = "zzqx unheard"


@contextmanager
def phone_of(browser: Browser, workshop: Workshop, size: str, look: str, language: str) -> Iterator[Handset]:
    """A manager's phone of that size and look, signed in."""
    width, height = (int(side) for side in size.split("x"))
    small = width < 1000
    context = browser.new_context(
        viewport={"width": width, "height": height},
        is_mobile=small,
        has_touch=small,
        locale=LOCALES[language],
        reduced_motion="reduce",
        **LOOKS[look],
    )
    context.set_default_timeout(20_000)
    phone = Handset(context.new_page(), workshop.address, language=language)
    try:
        yield phone
    finally:
        context.close()


def all_screens(phone: Handset, link: str) -> Iterator[str]:
    """Sign-in, every screen filled, then the rare states: nothing found, long words, no signal."""
    phone.page.goto(link)
    expect(phone.page.get_by_label(phone.says("join.nameOfThisPhone"))).to_be_visible()
    yield "join"
    phone.join(link)
    yield from screens(phone)
    phone.go("#/cases")
    phone.page.get_by_role("button", name=phone.says("cases.all"), exact=True).click()
    phone.page.get_by_label(phone.says("cases.findACase")).fill(NOTHING)
    yield "no case found"
    phone.page.get_by_label(phone.says("cases.findACase")).fill("")
    phone.ready_for_the_air(1)
    phone.ask(LONG)
    yield "advice, long words"
    phone.page.context.set_offline(True)
    phone.ask(f"{LONG} and cold")
    yield "advice without signal"
    phone.tap_outcome()
    yield "advice without signal, an outcome unsent"
    for place in ("shop", "failing"):
        phone.go(f"#/{place}")
        yield f"{place} without signal"


def pictures(browser: Browser, workshop: Workshop, into: Path, wanted: tuple[str, str, str]) -> int:
    """Every screen of one phone as `<size> <look> <language>/<place> <name>.png`; gives how many."""
    folder = into / " ".join(wanted)
    folder.mkdir(parents=True, exist_ok=True)
    with phone_of(browser, workshop, *wanted) as phone:
        many = 0
        for many, name in enumerate(all_screens(phone, workshop.link_for("manager")), start=1):
            plain = re.sub(r"\W+", "-", name)
            over = phone.page.locator("dialog[open]").count()
            phone.page.screenshot(path=folder / f"{many:02} {plain}.png", full_page=not over)
    return many


def main() -> None:
    """Take the pictures asked for."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawTextHelpFormatter)
    parser.add_argument("--into", type=Path, default=Path(tempfile.gettempdir()) / "pictures")
    for name, all_of in (("sizes", SIZES), ("looks", LOOKS), ("languages", LOCALES)):
        parser.add_argument(f"--{name}", nargs="+", choices=list(all_of), default=list(all_of))
    asked = parser.parse_args()
    with (
        tempfile.TemporaryDirectory() as folder,
        open_workshop(Path(folder)) as workshop,
        sync_playwright() as play,
    ):
        browser = play.chromium.launch(executable_path=chromium(), args=FLAGS)
        for wanted in product(asked.sizes, asked.looks, asked.languages):
            print(f"{pictures(browser, workshop, asked.into, wanted)} screens: {' '.join(wanted)}")


if __name__ == "__main__":
    main()
