"""Parts of bytes under one digest: what is damaged or cut short is never taken for whole."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from hashlib import blake2b

from baylore_kb.errors import SavedIndexUnusable

_DIGEST, _SIZE = 32, 8
# Parts begin where every kind of number may begin.
_ALIGNED = 16


def packed(magic: bytes, parts: Sequence[bytes | memoryview]) -> bytes:
    """The parts behind `magic` and a digest, each with its size; `opened` gives them back."""
    return b"".join(pieces(magic, parts))


def pieces(magic: bytes, parts: Iterable[bytes | memoryview]) -> list[bytes | memoryview]:
    """What `packed` joins, for who writes it down piece by piece: large parts are not copied."""
    body: list[bytes | memoryview] = []
    digest = blake2b(digest_size=_DIGEST)
    for part in parts:
        size = len(part).to_bytes(_SIZE, "little").ljust(_ALIGNED, b"\0")
        for piece in (size, part, bytes(-len(part) % _ALIGNED)):
            digest.update(piece)
            body.append(piece)
    head = magic.ljust(len(magic) + -len(magic) % _ALIGNED, b"\0")
    return [head, digest.digest(), *body]


def opened(magic: bytes, data: bytes | memoryview) -> list[memoryview]:
    """The parts, without copying. Raises SavedIndexUnusable for other bytes or damaged ones."""
    start = len(magic) + -len(magic) % _ALIGNED
    if bytes(data[: len(magic)]) != magic:
        raise SavedIndexUnusable("it is no saved index of this format")
    body = memoryview(data)[start + _DIGEST :]
    if blake2b(body, digest_size=_DIGEST).digest() != bytes(data[start : start + _DIGEST]):
        raise SavedIndexUnusable("it is damaged")
    return list(_parts(body))


def _parts(body: memoryview) -> Iterator[memoryview]:
    at = 0
    while at < len(body):
        size = int.from_bytes(body[at : at + _SIZE], "little")
        yield body[at + _ALIGNED : at + _ALIGNED + size]
        at += _ALIGNED + size
        at += -at % _ALIGNED
