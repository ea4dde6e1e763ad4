"""What the bytes of a picture say of it: its kind, its size before anybody unpacks it, and where it ends."""

from __future__ import annotations

from collections.abc import Iterator
from struct import unpack

Size = tuple[int, int]
JPEG, PNG, WEBP = "image/jpeg", "image/png", "image/webp"
PNG_SIGN = b"\x89PNG\r\n\x1a\n"
# Start of frame: the size stands in it. C4, C8 and CC are other things.
FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
# Markers without a length: fill, restarts, start.
BARE = frozenset({0x01, *range(0xD0, 0xD9)})
SCAN, END = 0xDA, 0xD9


def kind_of(data: bytes) -> str:
    """The kind of a picture by its first bytes, empty for anything else."""
    if data[:3] == b"\xff\xd8\xff":
        return JPEG
    if data[:8] == PNG_SIGN:
        return PNG
    return WEBP if data[:4] == b"RIFF" and data[8:12] == b"WEBP" else ""


def size_of(data: bytes) -> Size | None:
    """Width and height in pixels, read from the head alone; None where they cannot be read."""
    found = {JPEG: _jpeg_size, PNG: _png_size, WEBP: _webp_size}.get(kind_of(data), _nothing)(data)
    return found if found and min(found) > 0 else None


def trimmed(data: bytes) -> bytes:
    """The picture without what hangs on behind its end; as it is where the end cannot be found."""
    end = {JPEG: _jpeg_end, PNG: _png_end, WEBP: _webp_end}.get(kind_of(data), len)(data)
    return data[:end] if 0 < end < len(data) else data


def _nothing(_: bytes) -> None:
    return None


def _png_size(data: bytes) -> Size | None:
    if len(data) < 24 or data[12:16] != b"IHDR":
        return None
    width, height = unpack(">II", data[16:24])
    return width, height


def _png_end(data: bytes) -> int:
    at = len(PNG_SIGN)
    while at + 12 <= len(data):
        length = int.from_bytes(data[at : at + 4], "big")
        name, at = data[at + 4 : at + 8], at + 12 + length
        if name == b"IEND":
            return at
    return 0


def _webp_size(data: bytes) -> Size | None:
    kind, head = data[12:16], data[20:30]
    if len(head) < 10:
        return None
    if kind == b"VP8X":
        return 1 + int.from_bytes(head[4:7], "little"), 1 + int.from_bytes(head[7:10], "little")
    if kind == b"VP8 " and head[3:6] == b"\x9d\x01\x2a":
        width, height = unpack("<HH", head[6:10])
        return width & 0x3FFF, height & 0x3FFF
    if kind == b"VP8L" and head[0] == 0x2F:
        bits = int.from_bytes(head[1:5], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    return None


def _webp_end(data: bytes) -> int:
    return 8 + int.from_bytes(data[4:8], "little")


def _jpeg_size(data: bytes) -> Size | None:
    for marker, at in _segments(data):
        if marker in FRAMES and at + 9 <= len(data):
            height, width = unpack(">HH", data[at + 5 : at + 9])
            return width, height
    return None


def _jpeg_end(data: bytes) -> int:
    return next((at + 2 for marker, at in _segments(data) if marker == END), 0)


def _segments(data: bytes) -> Iterator[tuple[int, int]]:
    """Each marker with its place; scans are passed over, thumbnails inside segments are not seen."""
    at = 2
    while at + 4 <= len(data) + 2:
        at = data.find(b"\xff", at)
        if at < 0 or at + 1 >= len(data):
            return
        marker = data[at + 1]
        if marker in (0x00, 0xFF) or marker in BARE:
            at += 1 if marker == 0xFF else 2
            continue
        yield marker, at
        if marker == END:
            return
        at += 2 + int.from_bytes(data[at + 2 : at + 4], "big")
