"""What a snapshot read of its cases, as bytes: a start needs not read every case anew.

The cases themselves are not saved: they come from the store, each with a stamp that changes whenever the
case does. Only what was read of cases with the same stamp, by the same version on the same lists, is used.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeVar

import msgspec
import numpy as np
import numpy.typing as npt

from baylore_kb.casedoc import CaseDoc, Reader, facets_of
from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.index import Snapshot
from baylore_kb.lexicon import Lexicon, WordBook
from baylore_kb.packed import opened, packed
from baylore_kb.text import VERSION
from baylore_kb.tools import tools_for
from baylore_kb.trade import Trade
from baylore_kb.values import Case, Judged

_MAGIC = b"baylore index 2\n"
_NUMBERS, _FLOATS, _PLACES = np.dtype("<i4"), np.dtype("<f4"), np.dtype("<i8")

Any = TypeVar("Any", bound=np.generic)


class _Head(msgspec.Struct, frozen=True):
    """By whom and on what the cases were read, and what was read besides numbers."""

    reader: str
    lists: str
    terms: list[str]
    words: list[str]
    ids: list[str]
    stamps: list[str]
    symptoms: list[dict[str, float]]
    judged: list[tuple[Judged, ...]]


@dataclass(frozen=True, slots=True)
class _Rows:
    """Rows of numbers of unequal length, laid end to end."""

    flat: npt.NDArray[np.int32]
    ends: npt.NDArray[np.int64]

    def __iter__(self) -> Iterator[npt.NDArray[np.int32]]:
        return (self.flat[a:b] for a, b in pairwise((0, *self.ends.tolist())))


def pack(snapshot: Snapshot, *, stamps: Mapping[str, str], version: str) -> bytes:
    """The snapshot's reading of its cases; cases without a stamp are left out.

    `version` names the code that read them; what another version saved is never used.
    """
    docs = [snapshot.doc(id) for id in sorted(snapshot.cases) if id in stamps]
    head = _Head(
        _reader(version),
        snapshot.trade.version,
        snapshot.reader.lexicon.terms,
        snapshot.reader.book.terms,
        [doc.case.id for doc in docs],
        [stamps[doc.case.id] for doc in docs],
        [dict(doc.symptoms) for doc in docs],
        [doc.judged for doc in docs],
    )
    return packed(
        _MAGIC,
        [
            msgspec.json.encode(head),
            *_laid([doc.terms for doc in docs]),
            _joined([doc.weights for doc in docs], _FLOATS),
            *_laid([doc.words for doc in docs]),
            np.asarray([doc.length for doc in docs], dtype="<f8").tobytes(),
        ],
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
    kept = _Kept(head, parts)
    docs = [kept.doc(case, stamps.get(case.id), reader) or reader.read(case) for case in cases]
    return Snapshot.of_docs(docs, reader, tools, revision=revision)


class _Kept:
    """What was read of each case, found by its id."""

    def __init__(self, head: _Head, parts: Sequence[memoryview]) -> None:
        self._head = head
        self._places = {id: n for n, id in enumerate(head.ids)}
        terms = _Rows(np.frombuffer(parts[0], _NUMBERS), np.frombuffer(parts[1], _PLACES))
        words = _Rows(np.frombuffer(parts[3], _NUMBERS), np.frombuffer(parts[4], _PLACES))
        weights = np.frombuffer(parts[2], _FLOATS)
        self._terms, self._words = list(terms), list(words)
        self._weights = [weights[a:b] for a, b in pairwise((0, *terms.ends.tolist()))]
        self._lengths = np.frombuffer(parts[5], "<f8").tolist()

    def doc(self, case: Case, stamp: str | None, reader: Reader) -> CaseDoc | None:
        """The case as it was read, None where it was not read in this state."""
        n = self._places.get(case.id)
        if n is None or stamp is None or self._head.stamps[n] != stamp:
            return None
        symptoms = self._head.symptoms[n]
        return CaseDoc(
            case,
            self._terms[n],
            self._weights[n],
            self._words[n],
            self._lengths[n],
            facets_of(case, symptoms, reader.trade),
            symptoms,
            self._head.judged[n],
        )


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
