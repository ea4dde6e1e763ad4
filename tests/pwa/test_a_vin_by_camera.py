"""A VIN read by the camera: by the phone's own reader, by the app's where it has none, or kindly not at all.

The number is the worked example of 49 CFR 565.15 (Table VI). The bars are Code 39 (ISO/IEC 16388): nine
elements a sign, bar first, `1` for a wide one, a narrow gap between signs, a star at both ends.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from conftest import FLAGS, PHONE, chromium
from handset import Handset
from playwright.sync_api import Browser, Locator, Page, expect
from workshop import Workshop

VIN = "1G4AH59H45G118341"
BARS = {
    "1": "100100001",
    "3": "101100000",
    "4": "000110001",
    "5": "100110000",
    "8": "100100100",
    "9": "001100100",
    "A": "100001001",
    "G": "000001101",
    "H": "100001100",
    "*": "010010100",
}
WIDTH, HEIGHT = 1280, 720
NARROW, WIDE = 3, 8
READER = """
window.BarcodeDetector = class {
  static async getSupportedFormats() { return ['code_39', 'qr_code']; }
  constructor({ formats }) { window.asked = formats; }
  async detect(video) { window.seen = video.videoWidth; return [{ rawValue: 'IWZZZZZ' }, { rawValue: 'I%s' }]; }
};
""" % VIN  # noqa: UP031 - braces are JavaScript's


def label_row() -> bytes:
    """One line of points across the label: its bars in black on white, in the middle."""
    row = bytearray()
    for sign in f"*{VIN}*":
        for at, wide in enumerate(BARS[sign]):
            row += (b"\x10" if at % 2 == 0 else b"\xeb") * (WIDE if wide == "1" else NARROW)
        row += b"\xeb" * NARROW
    margin = (WIDTH - len(row)) // 2
    return bytes(b"\xeb" * margin + row).ljust(WIDTH, b"\xeb")


def film(place: Path) -> Path:
    """A film of the label that stands still (YUV4MPEG2, 4:2:0), for Chromium's fake camera."""
    white = b"\xeb" * WIDTH
    picture = b"".join(label_row() if HEIGHT // 3 < y < 2 * HEIGHT // 3 else white for y in range(HEIGHT))
    frame = b"FRAME\n" + picture + b"\x80" * (WIDTH * HEIGHT // 2)
    file = place / "label.y4m"
    file.write_bytes(f"YUV4MPEG2 W{WIDTH} H{HEIGHT} F10:1 Ip A1:1 C420jpeg\n".encode() + frame * 2)
    return file


@pytest.fixture(scope="module")
def seeing(browser: Browser, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Browser]:
    """A browser whose camera sees the label of a car."""
    label = film(tmp_path_factory.mktemp("film"))
    camera = ["--use-fake-device-for-media-stream", f"--use-file-for-fake-video-capture={label}"]
    launched = browser.browser_type.launch(executable_path=chromium(), args=[*FLAGS, *camera])
    yield launched
    launched.close()


@pytest.fixture
def page(seeing: Browser, workshop: Workshop) -> Iterator[Page]:
    """A signed-in phone with that camera."""
    context = seeing.new_context(viewport=PHONE, is_mobile=True, has_touch=True)  # type: ignore[arg-type]
    context.set_default_timeout(15_000)
    fresh = context.new_page()
    Handset(fresh, workshop.address).join(workshop.link_for("technician"), "Camera phone")
    yield fresh
    context.close()


def allow(page: Page, setting: str) -> None:
    """Answer the browser's question for the camera beforehand."""
    session = page.context.new_cdp_session(page)
    place = session.send("Target.getTargetInfo")["targetInfo"]["browserContextId"]
    asked = {"permission": {"name": "camera"}, "setting": setting, "browserContextId": place}
    session.send("Browser.setPermission", {**asked, "origin": page.evaluate("location.origin")})


def by_camera(page: Page) -> None:
    """The camera at the car's form."""
    page.reload()
    page.get_by_role("button", name="Another car").click()
    page.get_by_role("button", name="By camera").click()


def vin(page: Page) -> Locator:
    """The field for the number."""
    return page.get_by_role("textbox", name="VIN or leave it out")


def test_a_camera_that_is_not_allowed_says_so_and_leaves_typing(page: Page) -> None:
    allow(page, "denied")
    by_camera(page)
    notice = page.get_by_role("group", name="Camera for the VIN")
    expect(notice).to_contain_text("not allowed here")
    expect(notice).to_contain_text("type the number")
    notice.get_by_role("button", name="Close").click()
    vin(page).fill(VIN)
    expect(page.get_by_label("Year from the VIN")).to_have_value("2005")


def test_the_app_reads_the_bars_itself_where_the_browser_has_no_reader(page: Page) -> None:
    allow(page, "granted")
    page.add_init_script("window.BarcodeDetector = undefined")
    by_camera(page)
    expect(vin(page)).to_have_value(VIN, timeout=15_000)
    expect(page.get_by_label("Year from the VIN")).to_have_value("2005")
    expect(page.locator("video")).to_have_count(0)


def test_the_phones_own_reader_is_used_where_it_has_one(page: Page) -> None:
    allow(page, "granted")
    page.add_init_script(READER)
    by_camera(page)
    expect(vin(page)).to_have_value(VIN)
    assert page.evaluate("[asked, seen]") == [["code_39", "qr_code"], WIDTH]
