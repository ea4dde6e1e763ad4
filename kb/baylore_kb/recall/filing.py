"""A text index as bytes and back: the arrays as they are, under a digest, with the version that read them."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence

import msgspec
import numpy as np

from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.packed import opened, packed
from baylore_kb.recall.layout import Sample, Segment
from baylore_kb.recall.part import Part
from baylore_kb.recall.words import READING
from baylore_kb.text import VERSION

MAGIC = b"baylore texts 2\n"

Id = int | str


class _Array(msgspec.Struct, frozen=True):
    name: str
    kind: str
    shape: tuple[int, ...]


class _Head(msgspec.Struct, frozen=True):
    """By whom the texts were read, their words in the order of their numbers, and what lies in each part."""

    reader: str
    words: list[str]
    ids: list[Id]
    sampled: list[int]
    arrays: list[list[_Array]]


def pack(words: Iterable[str], ids: Sequence[Hashable], parts: Sequence[Part]) -> bytes:
    """The words in the order in which they came, the ids by document number, and the parts.

    Documents are numbered anew without gaps. Raises TypeError for ids that are neither whole numbers
    nor strings.
    """
    held = [_arrays(part) for part in parts]
    head = _Head(
        _reader(),
        list(words),
        [_plain(ids[number]) for part in parts for number in part.order.tolist()],
        [part.sample.size for part in parts],
        [[_Array(name, each.dtype.str, each.shape) for name, each in arrays.items()] for arrays in held],
    )
    data = [
        np.ascontiguousarray(each).data.cast("B") if each.size else b"" for a in held for each in a.values()
    ]
    return packed(MAGIC, [msgspec.json.encode(head), *data])


def unpack(data: bytes | memoryview) -> tuple[list[str], list[Hashable], tuple[Part, ...]]:
    """The words, the ids by document number, and the parts; the arrays share the memory of `data`.

    Raises SavedIndexUnusable where the bytes are damaged or another version wrote them.
    """
    head, *rest = opened(MAGIC, data)
    try:
        told = msgspec.json.decode(head, type=_Head)
    except msgspec.MsgspecError as error:
        raise SavedIndexUnusable("its head cannot be read") from error
    if told.reader != _reader():
        raise SavedIndexUnusable("another version made it")
    bodies = iter(rest)
    parts, at = [], 0
    for sampled, arrays in zip(told.sampled, told.arrays, strict=True):
        held = {each.name: _array(each, next(bodies)) for each in arrays}
        sample = Sample(held.pop("row_of"), held.pop("bits"), sampled)
        alive = held.pop("alive")
        order = np.arange(at, at + len(alive), dtype=np.int64)
        parts.append(Part(Segment(**held), alive, order, sample))
        at += len(alive)
    return told.words, list(told.ids), tuple(parts)


def _reader() -> str:
    return f"{VERSION} {READING}"


def _plain(id: Hashable) -> Id:
    if isinstance(id, int | str):
        return id
    raise TypeError(
        f"an index with the id {id!r} cannot be saved: give ids that are whole numbers or strings"
    )


def _arrays(part: Part) -> dict[str, np.ndarray]:
    held: dict[str, np.ndarray] = {"row_of": part.sample.row_of, "bits": part.sample.bits}
    return {**part.segment.arrays(), "alive": part.alive, **held}


def _array(told: _Array, body: memoryview) -> np.ndarray:
    return np.frombuffer(body, dtype=np.dtype(told.kind)).reshape(told.shape)
