"""The sides that are asked: the engine that holds all cases, and those whose cases are in PostgreSQL."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from statistics import mean, median
from typing import Any

from tests.bench.corpus import Question
from tests.bench.database_candidates.made import LARGE

from baylore_kb.advice import advise
from baylore_kb.afar import Brief, Choose, FarSnapshot, Sought, read, unpack_counts
from baylore_kb.index import Snapshot
from baylore_kb.question import understand
from baylore_kb.tools import tools_for
from baylore_kb.trade import load
from baylore_kb.values import Complaint
from baylore_service.far_host import PostgresSource
from baylore_service.store import seeking
from baylore_service.store.work import Store


class Watched(PostgresSource):
    """Notes how many cases the database gave to choose from."""

    given = 0

    def find(self, sought: Sought, *, limit: int, choose: Choose) -> Sequence[bytes]:
        """As PostgresSource has it."""

        def noting(found: Sequence[Brief]) -> Sequence[str]:
            self.given = len(found)
            return choose(found)

        return super().find(sought, limit=limit, choose=noting)


def memory(url: str) -> Snapshot:
    """The engine that holds all cases; what was read of them is taken from the tables."""
    empty, store = Snapshot.build((), trade=load()), Store(url)
    with store.read() as work:
        docs = [read(data, empty.reader) for data in seeking.every(work, LARGE)]
    store.close()
    return Snapshot.of_docs(docs, empty.reader, tools_for(load()), revision=1)


def database(url: str, *, trigrams: bool = False) -> FarSnapshot:
    """The engine whose cases are in PostgreSQL, with what was counted over them."""
    store = Store(url)
    with store.read() as work:
        kept = seeking.counts(work, LARGE) or b""
    return unpack_counts(kept, load(), Watched(store, LARGE, trigrams=trigrams))


def trigrams(url: str) -> FarSnapshot:
    """As `database`, with words spelt alike looked for by pg_trgm."""
    counted = database(url, trigrams=True)
    store = Store(url)
    with store.write() as work:
        seeking.prepare_trigrams(work)
        seeking.keep_words(work, LARGE, counted.reader.book.terms, anew=True)
    return counted


SIDES: Mapping[str, Callable[[str], Snapshot]] = {
    "memory": memory,
    "database": database,
    "trigrams": trigrams,
}


def measured(side: str, url: str, questions: Sequence[Question]) -> dict[str, Any]:
    """A side made ready as the service does, without looking for garbage meanwhile, and asked."""
    began = time.monotonic()
    gc.disable()
    snapshot = SIDES[side](url)
    gc.enable()
    gc.freeze()
    ready = time.monotonic() - began
    row = answered(snapshot, questions) | {
        "ready_s": ready,
        "mb": memory_mb("VmRSS"),
        "most_mb": memory_mb("VmHWM"),
    }
    return row | {"candidates": candidates(snapshot, questions)}


def answered(snapshot: Snapshot, questions: Sequence[Question]) -> dict[str, Any]:
    """Each question twice, the second time counts: milliseconds, the first three cases, hits in per cent."""
    times, first, worked, hits = [], [], [], 0
    for question in questions:
        complaint = Complaint(question.typed)
        advise(complaint, snapshot, limit=3)
        began, before = time.perf_counter(), time.process_time()
        found = advise(complaint, snapshot, limit=3)
        worked.append((time.process_time() - before) * 1000)
        times.append((time.perf_counter() - began) * 1000)
        first.append([match.case.id for match in found.cases])
        hits += f"{LARGE}-{question.note:07d}" in first[-1]
    assert all(id.startswith(LARGE) for ids in first for id in ids), "a case of another shop"
    times.sort()
    p99 = times[min(int(len(times) * 0.99), len(times) - 1)]
    row = {"p50": median(times), "p99": p99, "cpu": mean(worked), "found": 100 * hits / len(times)}
    return row | {"first": first}


def candidates(snapshot: Snapshot, questions: Sequence[Question]) -> dict[str, float]:
    """How many cases a question brings: given by the database, and compared; means."""
    given, compared = [], []
    for question in questions:
        compared.append(len(snapshot.candidates(understand(Complaint(question.typed), snapshot))))
        if isinstance(snapshot, FarSnapshot) and isinstance(snapshot.source, Watched):
            given.append(snapshot.source.given)
    return {"given": mean(given) if given else 0.0, "compared": mean(compared)}


def memory_mb(line: str) -> float:
    """What /proc says of this process in a line such as VmRSS."""
    status = Path("/proc/self/status").read_text()
    kb = next(each for each in status.splitlines() if each.startswith(line)).split()[1]
    return int(kb) / 1024
