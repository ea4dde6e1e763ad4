"""Chromium, the real service, and signed-in phones for the browser tests."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from handset import Handset
from playwright.sync_api import Browser, BrowserContext, Page, expect, sync_playwright
from workshop import Workshop, open_workshop

HERE = Path(__file__).parent
CLIENT = HERE.parents[1] / "pwa" / "dist" / "index.html"
NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "chrome")
FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PHONE = {"width": 390, "height": 844}
# A busy machine may take so long to answer; what is awaited comes sooner or fails for another reason.
PATIENCE_MS = 15_000
expect.set_options(timeout=PATIENCE_MS)


def chromium() -> str | None:
    """The browser on this machine, None where there is none."""
    return next((found for name in NAMES if (found := shutil.which(name))), None)


def missing() -> str:
    """What the browser tests lack here; empty when they can run."""
    if not chromium():
        return "no Chromium on this machine"
    return "" if CLIENT.is_file() else "the phone client is not built (cd pwa && npm ci && npm run build)"


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark the tests of this folder; leave all of them out, and say how many, where they cannot run."""
    ours = [each for each in items if HERE in each.path.parents]
    why = missing()
    for each in ours:
        each.add_marker(pytest.mark.browser)
        if why:
            each.add_marker(pytest.mark.skip(reason=f"{why}: {len(ours)} browser tests left out"))


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests."""
    with sync_playwright() as play:
        launched = play.chromium.launch(executable_path=chromium(), args=FLAGS)
        yield launched
        launched.close()


@pytest.fixture(scope="session")
def workshop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Workshop]:
    """The real service with its seeded shop."""
    with open_workshop(tmp_path_factory.mktemp("shop")) as opened:
        yield opened


@pytest.fixture
def contexts(browser: Browser) -> Iterator[Callable[..., BrowserContext]]:
    """Makes fresh phones (contexts), closed after the test."""
    made: list[BrowserContext] = []

    def make(**options: object) -> BrowserContext:
        settings = {"viewport": PHONE, "is_mobile": True, "has_touch": True, **options}
        made.append(browser.new_context(**settings))  # type: ignore[arg-type]
        made[-1].set_default_timeout(PATIENCE_MS)
        return made[-1]

    yield make
    for each in made:
        each.close()


@pytest.fixture
def new_page(contexts: Callable[..., BrowserContext]) -> Callable[..., Page]:
    """A page on a fresh phone."""
    return lambda **options: contexts(**options).new_page()


@pytest.fixture
def signed_in(new_page: Callable[..., Page], workshop: Workshop) -> Callable[..., Handset]:
    """A phone signed in as the member of a role."""

    def sign_in(role: str = "technician", *, name: str = "Blue phone", **options: object) -> Handset:
        language = str(options.get("locale", "en"))[:2]
        phone = Handset(new_page(**options), workshop.address, language=language)
        phone.listen()
        phone.join(workshop.link_for(role), name)
        return phone

    return sign_in
