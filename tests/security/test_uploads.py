"""Pictures: known by what they hold, small enough to unpack, and nothing behind them."""

from __future__ import annotations

import zlib
from pathlib import Path
from struct import pack

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.service.app_fixtures import Floor
from tests.service.test_routes_refusals import check_problem

from baylore_service.desk.pictures import kind_of, size_of, trimmed

ICON = Path(__file__).parents[2] / "pwa" / "public" / "icon-180.png"
PAGE = b"<!doctype html><script>alert(1)</script>"


def chunk(name: bytes, data: bytes) -> bytes:
    """A chunk of a PNG."""
    return pack(">I", len(data)) + name + data + pack(">I", zlib.crc32(name + data))


def png(width: int, height: int, rows: bytes = b"") -> bytes:
    """A grey PNG of this size."""
    head = chunk(b"IHDR", pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + head + chunk(b"IDAT", zlib.compress(rows, 9)) + chunk(b"IEND", b"")


def jpeg(width: int, height: int) -> bytes:
    """The frame of a JPEG with a thumbnail in it, restarts and stuffed bytes in its scan."""
    thumbnail = b"\xff\xd8\xff\xc0\x00\x0b\x08" + pack(">HH", 1, 2) + b"\x01\x01\x11\x00\xff\xd9"
    exif = b"Exif\0\0" + thumbnail
    return (
        b"\xff\xd8\xff\xe1" + pack(">H", len(exif) + 2) + exif
        + b"\xff\xc4\x00\x03\x00"
        + b"\xff\xc2\x00\x0b\x08" + pack(">HH", height, width) + b"\x01\x01\x11\x00"
        + b"\xff\xda\x00\x02ab\xff\x00\xff\xd0cd\xff\xda\x00\x02ef\xff\xff\xd9"
    )  # fmt: skip


def webp(kind: bytes, head: bytes) -> bytes:
    """A WebP with one chunk."""
    body = b"WEBP" + kind + pack("<I", len(head)) + head
    return b"RIFF" + pack("<I", len(body)) + body


PICTURES = {
    "png": png(300, 200),
    "jpeg": jpeg(300, 200),
    "webp": webp(b"VP8 ", b"\0\0\0\x9d\x01\x2a" + pack("<HH", 300, 200)),
    "webp lossless": webp(b"VP8L", b"\x2f" + pack("<I", 299 | 199 << 14) + b"\0" * 5),
    "webp extended": webp(b"VP8X", b"\0\0\0\0" + pack("<I", 299)[:3] + pack("<I", 199)[:3]),
}


@pytest.mark.parametrize("name", PICTURES)
def test_the_size_is_read_without_unpacking_and_what_hangs_on_behind_is_cut(name: str) -> None:
    data = PICTURES[name]
    assert size_of(data) == (300, 200)
    assert trimmed(data) == data == trimmed(data + PAGE)


def test_a_real_picture_is_read_as_it_is() -> None:
    data = ICON.read_bytes()
    assert (kind_of(data), size_of(data), trimmed(data)) == ("image/png", (180, 180), data)


def send(floor: Floor, data: bytes, kind: str = "image/png") -> object:
    """A picture for a new case."""
    path = f"/cases/{floor.open_case()['id']}/photos"
    return floor.ask("POST", path, content=data, headers={"Content-Type": kind})


def test_a_small_file_that_would_unpack_to_gigabytes_is_refused(floor: Floor) -> None:
    bomb = png(40_000, 40_000, b"\0" * 5_000_000)
    assert len(bomb) < 20_000
    for data in (bomb, png(16_385, 10), png(12_000, 12_000), png(2**31 - 1, 2**31 - 1)):
        check_problem(send(floor, data), 422, "data")  # type: ignore[arg-type]
    check_problem(send(floor, png(0, 10)), 422, "data")  # type: ignore[arg-type]
    check_problem(send(floor, b"\xff\xd8\xff\xd9", "image/jpeg"), 422, "data")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "data", [PAGE, b"GIF89a" + PAGE, b"%PDF-1.7", b"PK\x03\x04", b"<svg xmlns='x'/>", b"\0" * 99]
)
@pytest.mark.parametrize("kind", ["image/png", "image/jpeg", "image/webp", "text/html", "image/svg+xml"])
def test_what_is_no_picture_is_refused_whatever_it_says_of_itself(
    floor: Floor, data: bytes, kind: str
) -> None:
    answer = send(floor, data, kind)
    check_problem(answer, 415)  # type: ignore[arg-type]


def test_a_page_behind_a_picture_is_not_kept(floor: Floor) -> None:
    path = f"/cases/{floor.open_case()['id']}/photos"
    picture = png(3, 2)
    headers = {"Content-Type": "image/png"}
    case = floor.ask("POST", path, content=picture + PAGE, headers=headers).json()
    photo = case["photos"][0]
    assert photo["bytes"] == len(picture)
    assert floor.get(f"{path}/{photo['id']}").content == picture


@given(st.sampled_from(sorted(PICTURES)), st.data())
def test_broken_pictures_are_read_without_a_crash(name: str, data: st.DataObject) -> None:
    whole = PICTURES[name]
    cut = data.draw(st.integers(0, len(whole)))
    broken = (
        whole[:cut] + data.draw(st.binary(max_size=40)) + whole[data.draw(st.integers(cut, len(whole))) :]
    )
    size = size_of(broken)
    assert size is None or min(size) > 0
    assert broken.startswith(trimmed(broken))
