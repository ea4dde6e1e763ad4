"""A photo from the camera: drawn anew on the phone, kept without signal, and without the place it shows."""

from __future__ import annotations

import base64
import struct
from collections.abc import Callable, Iterator

from handset import Handset
from playwright.sync_api import FilePayload, expect
from workshop import Workshop

Phone = Callable[..., Handset]
LONGEST_PX = 1600
MOST_BYTES = 500_000
NOISE = """
async ([width, height]) => {
  const sheet = Object.assign(document.createElement('canvas'), { width, height });
  const brush = sheet.getContext('2d');
  const points = brush.createImageData(width, height);
  const words = new Uint32Array(points.data.buffer);
  let state = 7;
  for (let at = 0; at < words.length; at += 1)
    words[at] = (state = (state * 1664525 + 1013904223) >>> 0) | 0xff000000;
  brush.putImageData(points, 0, 0);
  const made = await new Promise(done => sheet.toBlob(done, 'image/jpeg', 0.9));
  const bytes = new Uint8Array(await made.arrayBuffer());
  let text = '';
  for (let at = 0; at < bytes.length; at += 8192)
    text += String.fromCharCode(...bytes.subarray(at, at + 8192));
  return btoa(text);
}
"""


def tag(number: int, kind: int, count: int, value: bytes) -> bytes:
    """One entry of a TIFF directory (Exif 2.32, 4.6.2); a longer value is given by its place."""
    return struct.pack("<HHI", number, kind, count) + value.ljust(4, b"\0")


def exif(*, orientation: int) -> bytes:
    """An APP1 segment that tells the camera's place (GPS directory, Exif 2.32, 4.6.6) and how it was held."""
    head = b"II*\0" + struct.pack("<I", 8)
    place = 8 + 2 + 2 * 12 + 4
    first = struct.pack("<H", 2) + tag(0x0112, 3, 1, struct.pack("<H", orientation))
    first += tag(0x8825, 4, 1, struct.pack("<I", place)) + struct.pack("<I", 0)
    values = place + 2 + 4 * 12 + 4
    gps = struct.pack("<H", 4) + tag(1, 2, 2, b"N\0") + tag(2, 5, 3, struct.pack("<I", values))
    gps += tag(3, 2, 2, b"E\0") + tag(4, 5, 3, struct.pack("<I", values + 24)) + struct.pack("<I", 0)
    degrees = b"".join(struct.pack("<II", each, 1) for each in (56, 57, 3, 24, 6, 19))
    body = b"Exif\0\0" + head + first + gps + degrees
    return b"\xff\xe1" + struct.pack(">H", len(body) + 2) + body


def segments(jpeg: bytes) -> Iterator[tuple[int, bytes]]:
    """Marker and content of each segment before the scan (ITU-T T.81, B.1.1)."""
    at = 2
    while jpeg[at + 1] != 0xDA:
        (length,) = struct.unpack(">H", jpeg[at + 2 : at + 4])
        yield jpeg[at + 1], jpeg[at + 4 : at + 2 + length]
        at += 2 + length


def size_of(jpeg: bytes) -> tuple[int, int]:
    """Width and height in the frame header."""
    frame = next(content for marker, content in segments(jpeg) if marker in (0xC0, 0xC2))
    height, width = struct.unpack(">HH", frame[1:5])
    return width, height


def shot(phone: Handset, *, size: tuple[int, int], orientation: int = 1) -> FilePayload:
    """A JPEG of pure noise, which compresses worst, as a camera writes it."""
    plain = base64.b64decode(phone.page.evaluate(NOISE, list(size)))
    made = plain[:2] + exif(orientation=orientation) + plain[2:]
    return {"name": "IMG_0007.JPG", "mimeType": "image/jpeg", "buffer": made}


def at_a_case(phone: Handset, complaint: str) -> str:
    """Opens a case by its first outcome; gives its id."""
    phone.ask(complaint)
    phone.tap_outcome()
    case = phone.page.url.rpartition("/")[2]
    phone.go(f"#/case/{case}")
    return case


def test_a_photo_taken_without_signal_arrives_small_and_without_its_place(
    signed_in: Phone, workshop: Workshop
) -> None:
    phone = signed_in()
    phone.wait_for_worker()
    complaint = "green at the third pin of the rear lamp plug"
    case = at_a_case(phone, complaint)
    picture = shot(phone, size=(2400, 1800), orientation=6)
    assert b"Exif" in picture["buffer"] and len(picture["buffer"]) > 2 * MOST_BYTES
    phone.page.context.set_offline(True)
    phone.page.locator("input[type=file]").set_input_files(picture)
    expect(phone.page.locator(".toast")).to_contain_text("without the place")
    phone.page.reload()
    thumb = phone.page.locator(".thumb img")
    expect(thumb).to_be_visible()
    box = thumb.bounding_box()
    assert box is not None and box["height"] < 200
    phone.page.context.set_offline(False)
    phone.wait_until_sent()
    (stored,) = workshop.cases_about(complaint)
    (photo,) = stored["photos"]
    sent = workshop.api.get(f"/api/cases/{case}/photos/{photo['id']}").content
    assert len(sent) == photo["bytes"] <= MOST_BYTES
    assert [marker for marker, _ in segments(sent) if marker == 0xE1] == []
    assert b"Exif" not in sent and b"GPS" not in sent
    width, height = size_of(sent)
    assert max(width, height) <= LONGEST_PX and height > width, "held upright, as the camera was"


def test_a_file_that_is_no_picture_is_refused_kindly_and_nothing_waits(signed_in: Phone) -> None:
    phone = signed_in()
    case = at_a_case(phone, "wind noise left front door")
    phone.wait_until_sent()
    for content in (b"no picture at all", b"", b"\xff\xd8\xff\xe0\0\x10JF"):
        file: FilePayload = {"name": "list.jpg", "mimeType": "image/jpeg", "buffer": content}
        phone.page.locator("input[type=file]").set_input_files(file)
        expect(phone.page.locator(".toast")).to_contain_text("no picture this phone can read")
        phone.go("#/cases")
        expect(phone.page.locator(".toast")).to_have_count(0)
        phone.go(f"#/case/{case}")
    assert phone.unsent() == 0
