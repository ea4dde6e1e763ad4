"""What a snapshot read of its cases, as bytes: a start needs not read every case anew.

The cases themselves are not saved: they come from the store, each with a stamp that changes whenever the
case does. Only what was read of cases with the same stamp, by the same version on the same lists, is used.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise, starmap
from typing import Generic, NamedTuple, TypeVar

import msgspec
import numpy as np
import numpy.typing as npt

from baylore_kb.casedoc import CaseDoc, Reader, facets_of
from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.index import Snapshot
from baylore_kb.lexicon import Lexicon, WordBook
from baylore_kb.packed import opened, pieces
from baylore_kb.text import VERSION
from baylore_kb.tools import tools_for
from baylore_kb.trade import Trade
from baylore_kb.values import Case, Judged

_MAGIC = b"baylore index 3\n"
_NUMBERS, _FLOATS, _PLACES = np.dtype("<i4"), np.dtype("<f4"), np.dtype("<i8")
# Written out in one go; more at once would keep whoever asks meanwhile waiting.
_BLOCK = 500
_PARTS_OF_BLOCK = 7

Any = TypeVar("Any", bound=np.generic)


class _Head(msgspec.Struct, frozen=True):
    """By whom and on what the cases were read."""

    reader: str
    lists: str
    terms: list[str]
    words: list[str]


class _Told(msgspec.Struct, frozen=True):
    """What was read of the cases of a block besides numbers."""

    ids: list[str]
    stamps: list[str]
    symptoms: list[dict[str, float]]
    judged: list[tuple[Judged, ...]]


@dataclass(frozen=True, slots=True)
class _Rows(Generic[Any]):
    """Rows of numbers of unequal length, laid end to end."""

    flat: npt.NDArray[Any]
    ends: npt.NDArray[np.int64]

    def __iter__(self) -> Iterator[npt.NDArray[Any]]:
        return (self.flat[a:b] for a, b in pairwise((0, *self.ends.tolist())))


def pack(snapshot: Snapshot, *, stamps: Mapping[str, str], version: str) -> list[bytes | memoryview]:
    """The snapshot's reading of its cases, to be written piece after piece; without a stamp none is in it.

    `version` names the code that read them; what another version saved is never used.
    """
    reader = snapshot.reader
    head = _Head(_reader(version), snapshot.trade.version, reader.lexicon.terms, reader.book.terms)
    docs = [doc for doc in snapshot.living_docs() if doc.case.id in stamps]
    parts = [msgspec.json.encode(head)]
    for start in range(0, len(docs), _BLOCK):
        parts += _block(docs[start : start + _BLOCK], stamps)
    return pieces(_MAGIC, parts)


def _block(docs: Sequence[CaseDoc], stamps: Mapping[str, str]) -> tuple[bytes, ...]:
    ids = [doc.case.id for doc in docs]
    symptoms, judged = [dict(doc.symptoms) for doc in docs], [doc.judged for doc in docs]
    return (
        msgspec.json.encode(_Told(ids, [stamps[id] for id in ids], symptoms, judged)),
        *_laid([doc.terms for doc in docs]),
        _joined([doc.weights for doc in docs], _FLOATS),
        *_laid([doc.words for doc in docs]),
        np.asarray([doc.length for doc in docs], dtype="<f8").tobytes(),
    )


def unpack(
    data: bytes,
    cases: Iterable[Case],
    *,
    stamps: Mapping[str, str],
    version: str,
    trade: Trade,
    revision: int,
) -> Snapshot:
    """A snapshot of the cases, equal in its answers to one built anew; cases whose stamp is not the saved
    one are read anew.

    Raises SavedIndexUnusable where the bytes are damaged, or another version or other lists read them.
    """
    head, parts = _read(data, version, trade)
    tools = tools_for(trade)
    reader = Reader(tools.analyzer, Lexicon.of(head.terms), WordBook.of(head.words), trade, tools.spotter)
    blocks = (parts[at : at + _PARTS_OF_BLOCK] for at in range(0, len(parts), _PARTS_OF_BLOCK))
    kept = {id: saved for block in blocks for id, saved in _saved(block)}
    docs = [_kept(case, kept.get(case.id), stamps, reader) or reader.read(case) for case in cases]
    return Snapshot.of_docs(docs, reader, tools, revision=revision)


class _Saved(NamedTuple):
    """What was read of one case."""

    stamp: str
    terms: npt.NDArray[np.int32]
    weights: npt.NDArray[np.float32]
    words: npt.NDArray[np.int32]
    length: float
    symptoms: dict[str, float]
    judged: tuple[Judged, ...]


def _saved(block: Sequence[memoryview]) -> Iterator[tuple[str, _Saved]]:
    """What was read of each case of a block, by id."""
    told = msgspec.json.decode(block[0], type=_Told)
    terms = _Rows(np.frombuffer(block[1], _NUMBERS), np.frombuffer(block[2], _PLACES))
    words = _Rows(np.frombuffer(block[4], _NUMBERS), np.frombuffer(block[5], _PLACES))
    weights = _Rows(np.frombuffer(block[3], _FLOATS), terms.ends)
    lengths = np.frombuffer(block[6], "<f8").tolist()
    rows = zip(told.stamps, terms, weights, words, lengths, told.symptoms, told.judged, strict=True)
    return zip(told.ids, starmap(_Saved, rows), strict=True)


def _kept(case: Case, saved: _Saved | None, stamps: Mapping[str, str], reader: Reader) -> CaseDoc | None:
    """The case as it was read, None where it was not read in this state."""
    if saved is None or saved.stamp != stamps.get(case.id):
        return None
    facets = facets_of(case, saved.symptoms, reader.trade)
    _, terms, weights, words, length, symptoms, judged = saved
    return CaseDoc(case, terms, weights, words, length, facets, symptoms, judged)


def _reader(version: str) -> str:
    return f"{VERSION} {version}"


def _laid(rows: Sequence[npt.NDArray[np.int32]]) -> tuple[bytes, bytes]:
    return _joined(rows, _NUMBERS), np.cumsum([len(row) for row in rows], dtype=_PLACES).tobytes()


def _joined(rows: Sequence[npt.NDArray[Any]], kind: np.dtype[Any]) -> bytes:
    return b"".join(np.asarray(row, dtype=kind).tobytes() for row in rows)


def _read(data: bytes, version: str, trade: Trade) -> tuple[_Head, list[memoryview]]:
    parts = opened(_MAGIC, data)
    head = msgspec.json.decode(parts[0], type=_Head)
    if head.reader != _reader(version) or head.lists != trade.version:
        raise SavedIndexUnusable("another version or other lists made it")
    return head, parts[1:]
