"""Fills the derived tables with made-up cases: each read once as the service reads it, written by COPY.

Some processes make and read runs of cases; the word index is made when all rows are there, and what is
counted over the large shop's cases is counted from the tables as the service does.
`tests/service/test_far_rows.py` holds rows to those the service writes.
"""

from __future__ import annotations

import time
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from multiprocessing import get_context
from typing import Any

from tests.bench.database_candidates.made import LARGE, Shop, made

from baylore_kb.afar import FarSnapshot, pack_counts
from baylore_kb.trade import load
from baylore_service.far_host import PostgresSource, reader_of, recounted, row_of
from baylore_service.store import seeking
from baylore_service.store.work import Store

# A process holds the words it has read; a new one begins with few.
RUNS_A_PROCESS = 40


def fill(url: str, shops: Sequence[Shop], *, processes: int) -> dict[str, Any]:
    """Fill the tables; seconds of each step, and bytes on disk."""
    store, steps = Store(url), {}
    began = time.monotonic()
    with store.write() as work:
        seeking.prepare(work)
        numbers = {shop.id: seeking.locked(work, shop.id).number for shop in shops}
        work.connection.exec_driver_sql(f"DROP INDEX {seeking.SCHEMA}.cases_terms")
    runs = [(shop, numbers[shop.id], run) for shop in shops for run in range(shop.runs)]
    with ProcessPoolExecutor(
        processes, mp_context=get_context("spawn"), max_tasks_per_child=RUNS_A_PROCESS
    ) as pool:
        rows = sum(pool.map(partial(write_run, url), runs))
    assert rows == sum(shop.cases for shop in shops)
    steps["rows_s"], began = time.monotonic() - began, time.monotonic()
    with store.write() as work:
        work.connection.exec_driver_sql("SET LOCAL maintenance_work_mem = '1GB'")
        work.connection.exec_driver_sql(seeking.INDEX)
    with store.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
        connection.exec_driver_sql(f"VACUUM ANALYZE {seeking.SCHEMA}.cases")
    steps["index_s"], began = time.monotonic() - began, time.monotonic()
    with store.read() as work:
        snapshot = recounted(work, LARGE, FarSnapshot.none(load(), PostgresSource(store, LARGE)))
    with store.write() as work:
        seeking.keep_counts(work, LARGE, pack_counts(snapshot), revision=1)
    steps["counts_s"] = time.monotonic() - began
    return steps | {"cases": rows} | sizes(store)


def write_run(url: str, task: tuple[Shop, int, int]) -> int:
    """Make, read and write one run of a shop's cases; how many."""
    shop, number, run = task
    store, reader = Store(url, pool_size=1), reader_of(load())
    rows = [row_of(reader.read(case), reader) for case in made(shop, run)]
    with store.write() as work:
        seeking.add(work, shop.id, number, rows)
    store.close()
    return len(rows)


def sizes(store: Store) -> dict[str, int]:
    """Bytes on disk: of all derived tables, of their rows, of what lies beside the rows, of the indexes."""
    of = "sum(pg_total_relation_size(oid)), sum(pg_relation_size(oid)), sum(pg_indexes_size(oid))"
    query = f"SELECT {of} FROM pg_class WHERE relnamespace = %s::regnamespace AND relkind = 'r'"
    with store.read() as work:
        row = work.connection.exec_driver_sql(query, (seeking.SCHEMA,)).one()
    whole, rows, indexes = map(int, row)
    return {"bytes": whole, "row_bytes": rows, "index_bytes": indexes}
