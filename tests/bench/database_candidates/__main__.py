"""Candidates from PostgreSQL beside candidates from memory: `python -m tests.bench.database_candidates`.

One large shop of made-up cases (`made.py`) among small ones on one private PostgreSQL on loopback, asked by
the engine that holds all its cases and by the one whose cases stay in the database; each side in a process of
its own, one after the other. Prints milliseconds a question, how many candidates, the memory of the process,
bytes on disk, how often the first three cases are the same, mistyped questions apart, and how often the case
a question was made from is among the first three. Quote ratios of one run, never the times.
"""

from __future__ import annotations

import argparse
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from tests.bench.database_candidates.filling import fill
from tests.bench.database_candidates.made import questions, shops
from tests.bench.database_candidates.sides import SIDES, measured
from tests.bench.database_candidates.table import show
from tests.postgres import cluster

from baylore_service.store.migrate import upgrade

SETTINGS = ("fsync=off", "full_page_writes=off", "shared_buffers=1GB", "max_wal_size=8GB")


def main() -> None:
    """Fill a store, ask the sides, print one table."""
    asked = arguments()
    if asked.one:
        print(json.dumps(one(asked)))
        return
    with cluster(settings=SETTINGS) as made:
        asked.url = made.address.replace("postgresql:", "postgresql+psycopg:")
        upgrade(asked.url)
        rows = {}
        for side in ("fill", *asked.sides.split(",")):
            rows[side] = in_a_process(side, asked.url)
            print(f"{side} done", file=sys.stderr, flush=True)
    show(rows, questions(asked.cases, asked.questions), cases=asked.cases)
    if asked.json:
        asked.json.write_text(json.dumps(rows, indent=1))


def arguments() -> argparse.Namespace:
    """What is asked for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=100_000)
    parser.add_argument("--others", type=int, default=16, help="small shops on the same database")
    parser.add_argument("--each", type=int, default=500, help="cases of each of them")
    parser.add_argument("--questions", type=int, default=200)
    parser.add_argument("--sides", default="memory,database", help=f"of {', '.join(SIDES)}")
    parser.add_argument("--processes", type=int, default=os.cpu_count() or 1, help="that fill")
    parser.add_argument("--json", type=Path)
    parser.add_argument("--one", help=argparse.SUPPRESS)
    parser.add_argument("--url", default="", help=argparse.SUPPRESS)
    return parser.parse_args()


def one(asked: argparse.Namespace) -> dict[str, Any]:
    """What one side, or the filling, gives."""
    if asked.one == "fill":
        every = shops(asked.cases, others=asked.others, each=asked.each)
        return fill(asked.url, every, processes=asked.processes)
    return measured(asked.one, asked.url, questions(asked.cases, asked.questions))


def in_a_process(side: str, url: str) -> dict[str, Any]:
    """One side measured in a fresh process with one thread."""
    command = [sys.executable, "-m", "tests.bench.database_candidates", *sys.argv[1:]]
    command += ["--one", side, "--url", url]
    env = os.environ | {"OPENBLAS_NUM_THREADS": "1", "NUMBA_NUM_THREADS": "1"}
    done = subprocess.run(command, env=env, stdout=subprocess.PIPE, text=True, check=True)
    return dict(json.loads(done.stdout.splitlines()[-1]))


if __name__ == "__main__":
    main()
