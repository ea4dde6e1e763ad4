"""Candidates from PostgreSQL beside candidates from memory: `python -m tests.bench.database_candidates`.

Made-up cases (corpus.py) of one shop, asked by both; each side in a process of its own, a private PostgreSQL
on loopback between them. Prints how often the first three cases are the same, mistyped questions apart,
milliseconds a question, the memory of the process, bytes a case in the tables, and how often the case a
question was made from is among the first three. Quote ratios of one run, never the times.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import islice
from pathlib import Path
from statistics import median
from typing import Any

from tests.bench.corpus import Corpus, Question
from tests.postgres import cluster

from baylore_kb.advice import advise
from baylore_kb.afar import FarSnapshot, News, pack_counts, read, unpack_counts
from baylore_kb.index import Snapshot
from baylore_kb.tools import tools_for
from baylore_kb.trade import load
from baylore_kb.values import Case, Complaint, Vehicle
from baylore_service.far_host import PostgresSource, row_of
from baylore_service.store import seeking
from baylore_service.store.migrate import upgrade
from baylore_service.store.work import Store

SEED, SHOP, AT_ONCE = 7, "bench", 2000
DAY = datetime(2026, 3, 1, tzinfo=UTC)
SETTINGS = ("fsync=off", "full_page_writes=off", "shared_buffers=1GB", "maintenance_work_mem=512MB")


def main() -> None:
    """Fill a store, ask both sides, print one table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=100_000)
    parser.add_argument("--questions", type=int, default=200)
    parser.add_argument("--sides", default="memory,database", help="memory needs some kB for each case")
    parser.add_argument("--json", type=Path)
    parser.add_argument("--one", help=argparse.SUPPRESS)
    parser.add_argument("--url", default="", help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.one:
        print(json.dumps(SIDES[asked.one](asked)))
        return
    with cluster(settings=SETTINGS) as made:
        asked.url = made.address.replace("postgresql:", "postgresql+psycopg:")
        upgrade(asked.url)
        rows = {side: in_a_process(side, asked) for side in ("fill", *asked.sides.split(","))}
    show(rows, asked)
    if asked.json:
        asked.json.write_text(json.dumps(rows, indent=1))


def in_a_process(side: str, asked: argparse.Namespace) -> dict[str, Any]:
    """One side measured in a fresh process with one thread."""
    command = [sys.executable, "-m", "tests.bench.database_candidates", "--one", side, "--url", asked.url]
    command += ["--cases", str(asked.cases), "--questions", str(asked.questions)]
    env = os.environ | {"OPENBLAS_NUM_THREADS": "1", "NUMBA_NUM_THREADS": "1"}
    done = subprocess.run(command, env=env, stdout=subprocess.PIPE, text=True, check=True)
    return dict(json.loads(done.stdout.splitlines()[-1]))


def show(rows: dict[str, dict[str, Any]], asked: argparse.Namespace) -> None:
    """Print the table."""
    fill, cases = rows["fill"], asked.cases
    print(
        f"{cases} cases; tables {fill['bytes'] / cases:.0f} bytes a case, filled in {fill['seconds']:.0f} s"
    )
    heads = ("ready after s", "memory MB", "p50 ms", "p95 ms", "processor ms", "its case among three %")
    print(f"| side | {' | '.join(heads)} |\n|---|---|---|---|---|---|---|")
    for side in (side for side in ("memory", "database", "trigrams") if side in rows):
        row = rows[side]
        figures = (row[name] for name in ("ready_s", "mb", "p50", "p95", "cpu", "found"))
        print(f"| {side} | " + " | ".join(f"{figure:.1f}" for figure in figures) + " |")
    for side in rows.keys() - {"fill", "memory"} if "memory" in rows else ():
        slips = [each.slips for each in made_questions(asked)]
        pairs = list(zip(slips, rows["memory"]["first"], rows[side]["first"], strict=True))
        for name, least, most in (("all", 0, 9), ("as they should be", 0, 0), ("mistyped", 1, 9)):
            if some := [(one, other) for n, one, other in pairs if least <= n <= most]:
                agreed(f"{side}, {name}", some)


def agreed(name: str, pairs: list[tuple[list[str], list[str]]]) -> None:
    """Print how often the first cases are the same."""
    same = sum(one == other for one, other in pairs) / len(pairs)
    as_set = sum(set(one) == set(other) for one, other in pairs) / len(pairs)
    first = sum(one[:1] == other[:1] for one, other in pairs) / len(pairs)
    in_order = f"same first three {same:.1%} (in any order {as_set:.1%})"
    print(f"{name}: {in_order}, same first {first:.1%} of {len(pairs)}")


def made(count: int) -> Iterator[Case]:
    """The cases, each with a car, a code and one of the listed causes."""
    causes = list(load().causes)
    for number, note in Corpus(SEED).notes(count):
        year, make, model, *words = note.split()
        yield Case(
            f"case-{number:07d}",
            Complaint(" ".join(words), Vehicle(int(year), make, model)),
            opened=DAY + timedelta(minutes=number),
            closed=DAY + timedelta(minutes=number + 60),
            state="closed",
            cause=causes[number * 7919 % len(causes)],
            verified=True,
        )


def made_questions(asked: argparse.Namespace) -> list[Question]:
    """The questions, with what slips they have."""
    notes = list(Corpus(SEED).notes(min(asked.cases, 20_000)))
    return Corpus(SEED).questions(notes, asked.questions)


def fill(asked: argparse.Namespace) -> dict[str, Any]:
    """Write the cases into the tables and keep what is counted."""
    store, began = Store(asked.url), time.monotonic()
    snapshot = FarSnapshot.none(load(), PostgresSource(store, SHOP))
    with store.write() as work:
        seeking.prepare(work)
        number = seeking.locked(work, SHOP).number
        work.connection.exec_driver_sql(f"DROP INDEX {seeking.SCHEMA}.sought_terms")
    cases = made(asked.cases)
    while some := list(islice(cases, AT_ONCE)):
        docs = [snapshot.reader.read(case) for case in some]
        with store.write() as work:
            seeking.put(work, SHOP, number, [row_of(doc, snapshot.reader) for doc in docs])
        snapshot = snapshot.with_news([News(doc.case.id, None, doc) for doc in docs], revision=1)
    with store.write() as work:
        work.connection.exec_driver_sql(seeking.INDEX)
        seeking.keep_counts(work, SHOP, pack_counts(snapshot), revision=1)
    with store.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.exec_driver_sql(f"VACUUM ANALYZE {seeking.SCHEMA}.sought")
        size = "SELECT sum(pg_total_relation_size(oid)) FROM pg_class WHERE relnamespace = %s::regnamespace"
        kinds = f"{size} AND relkind = 'r'"
        found = connection.exec_driver_sql(kinds, (seeking.SCHEMA,)).scalar_one()
    return {"seconds": time.monotonic() - began, "bytes": int(found)}


def memory(asked: argparse.Namespace) -> dict[str, Any]:
    """Ask the engine that holds all cases; what was read of them is taken from the tables."""
    began, empty = time.monotonic(), Snapshot.build((), trade=load())
    store = Store(asked.url)
    with store.read() as work:
        docs = [read(data, empty.reader) for data in seeking.every(work, SHOP)]
    snapshot = Snapshot.of_docs(docs, empty.reader, tools_for(load()), revision=1)
    return answered(snapshot, asked, ready=time.monotonic() - began)


def database(asked: argparse.Namespace, *, trigrams: bool = False) -> dict[str, Any]:
    """Ask the engine whose cases are in PostgreSQL."""
    began, store = time.monotonic(), Store(asked.url)
    with store.read() as work:
        kept = seeking.counts(work, SHOP) or b""
    snapshot = unpack_counts(kept, load(), PostgresSource(store, SHOP, trigrams=trigrams))
    return answered(snapshot, asked, ready=time.monotonic() - began)


def cpu_ms() -> float:
    """Milliseconds this process has worked."""
    return time.process_time() * 1000


def answered(snapshot: Snapshot, asked: argparse.Namespace, *, ready: float) -> dict[str, Any]:
    """Each question twice, the second time counts; the first three cases, and the memory after."""
    times, first, worked, hits = [], [], 0.0, 0
    for question in made_questions(asked):
        complaint = Complaint(question.typed)
        advise(complaint, snapshot, limit=3)
        began, before = time.perf_counter(), cpu_ms()
        found = advise(complaint, snapshot, limit=3)
        times.append((time.perf_counter() - began) * 1000)
        worked += cpu_ms() - before
        first.append([match.case.id for match in found.cases])
        hits += f"case-{question.note:07d}" in first[-1]
    times.sort()
    status = Path("/proc/self/status").read_text()
    resident = next(line for line in status.splitlines() if line.startswith("VmRSS")).split()[1]
    p95 = times[int(len(times) * 0.95)]
    row = {"ready_s": ready, "mb": int(resident) / 1024, "p50": median(times), "p95": p95}
    row["found"] = 100 * hits / len(times)
    return row | {"cpu": worked / len(times), "first": first}


def trigrams(asked: argparse.Namespace) -> dict[str, Any]:
    """As `database`, with words spelt alike looked for by pg_trgm."""
    store = Store(asked.url)
    with store.write() as work:
        counted = unpack_counts(seeking.counts(work, SHOP) or b"", load(), PostgresSource(store, SHOP))
        seeking.prepare_trigrams(work)
        seeking.keep_words(work, SHOP, counted.reader.book.terms, anew=True)
    return database(asked, trigrams=True)


SIDES = {"fill": fill, "memory": memory, "database": database, "trigrams": trigrams}

if __name__ == "__main__":
    main()
