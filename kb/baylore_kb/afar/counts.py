"""What a far memory has counted, as bytes: a process that begins later need not count anew."""

from __future__ import annotations

from dataclasses import replace

import msgspec
import numpy as np
from immutables import Map

from baylore_kb.afar.snapshot import FarSnapshot
from baylore_kb.afar.source import Source
from baylore_kb.afar.written import read, write
from baylore_kb.errors import SavedIndexUnusable
from baylore_kb.lexicon import Lexicon, WordBook
from baylore_kb.tally import Tally
from baylore_kb.trade import Trade


class _Counts(msgspec.Struct, frozen=True, array_like=True):
    """What a far snapshot has counted."""

    revision: int
    terms: list[str]
    term_counts: bytes
    words: list[str]
    word_counts: bytes
    facets: dict[str, dict[str, int]]
    length: int
    cases: int
    tally: Tally
    sampled: list[bytes]


def pack_counts(snapshot: FarSnapshot) -> bytes:
    """What was counted, for processes that begin later."""
    living, reader = snapshot.living, snapshot.reader
    return msgspec.msgpack.encode(
        _Counts(
            snapshot.revision,
            reader.lexicon.terms[: len(living.terms)],
            living.terms.astype("<i4").tobytes(),
            reader.book.terms[: len(living.words)],
            living.words.astype("<i4").tobytes(),
            {kind: dict(held) for kind, held in living.facets.items()},
            living.length,
            living.held,
            snapshot.tally,
            [write(snapshot.sampled[id], reader) for id in sorted(snapshot.sampled)],
        )
    )


def unpack_counts(data: bytes, trade: Trade, source: Source) -> FarSnapshot:
    """The snapshot that was packed. Raises SavedIndexUnusable for damaged bytes."""
    try:
        counts = msgspec.msgpack.decode(data, type=_Counts)
    except msgspec.MsgspecError as error:
        raise SavedIndexUnusable("it is damaged") from error
    empty = FarSnapshot.numbered_by(trade, source, Lexicon.of(counts.terms), WordBook.of(counts.words))
    living = replace(
        empty.living,
        terms=np.frombuffer(counts.term_counts, dtype="<i4").astype(np.int32),
        words=np.frombuffer(counts.word_counts, dtype="<i4").astype(np.int32),
        facets=Map({kind: Map(held) for kind, held in counts.facets.items()}),
        length=counts.length,
        elsewhere=counts.cases,
    )
    sampled = [read(each, empty.reader) for each in counts.sampled]
    return replace(
        empty,
        living=living,
        tally=counts.tally,
        revision=counts.revision,
        sampled=Map({doc.case.id: doc for doc in sampled}),
    )
