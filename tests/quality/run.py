"""Ranked retrieval side by side in one table: `python -m tests.quality.run` (see tests/bench/README.md)."""

from __future__ import annotations

import argparse
import json
import sys
import time
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from statistics import mean

import numpy as np
from tests.quality.engines import DEPTH, ENGINES, PEERS, Ranking, version
from tests.quality.sets import SETS, QuerySet, load, present

from baylore_kb.metrics import ndcg, reciprocal_rank, sign_flip, success

RESAMPLED = 2000


@dataclass(frozen=True, slots=True)
class Result:
    """How one engine did on one set: means over its queries, and each query's reciprocal rank."""

    engine: str
    hit_1: float
    hit_10: float
    mrr: float
    ndcg: float
    ranks: tuple[float, ...]
    seconds: float


def evaluate(
    given: QuerySet, rankings: Mapping[str, Ranking], *, engine: str = "", seconds: float = 0.0
) -> Result:
    """The measures of these rankings by query id (linear gains, first ten)."""
    runs = [(rankings[query.id], query.grades) for query in given.queries]
    ranks = tuple(reciprocal_rank(run[:DEPTH], grades) for run, grades in runs)
    return Result(
        engine,
        mean(success(run, grades, 1) for run, grades in runs),
        mean(success(run, grades, DEPTH) for run, grades in runs),
        mean(ranks),
        mean(ndcg(run, grades, DEPTH) for run, grades in runs),
        ranks,
        seconds,
    )


def ranked(given: QuerySet, engine: str) -> Result:
    """One engine on one set."""
    start = time.perf_counter()
    ask = ENGINES[engine](given)
    rankings = {query.id: ask(query) for query in given.queries}
    return evaluate(given, rankings, engine=engine, seconds=time.perf_counter() - start)


def against(one: Result, other: Result) -> str:
    """The difference of mean reciprocal ranks, its 95 % bootstrap interval and the sign-flip p."""
    gaps = np.subtract(one.ranks, other.ranks)
    draws = np.random.default_rng(0).integers(len(gaps), size=(RESAMPLED, len(gaps)))
    low, high = np.percentile(gaps[draws].mean(axis=1), [2.5, 97.5])
    flip = sign_flip(one.ranks, other.ranks)
    return f"{flip.mean_difference:+.3f} [{low:+.3f}, {high:+.3f}] p {flip.p_value:.3f}"


def rows(given: QuerySet, results: Sequence[Result]) -> Iterator[str]:
    """The lines of one set: each engine, ours with the difference to the best text-only peer."""
    peers = [result for result in results if result.engine in PEERS]
    best = max(peers, key=lambda result: result.mrr, default=None)
    for result in results:
        figures = f"{result.hit_1:.3f} | {result.hit_10:.3f} | {result.mrr:.3f} | {result.ndcg:.3f}"
        gap = against(result, best) if best is not None and result.engine not in PEERS else ""
        mark = " (best peer)" if result is best else ""
        yield f"| {given.name} ({len(given.queries)}) | {result.engine}{mark} | {figures} | {gap} |"


def engines_for(given: QuerySet, wanted: Sequence[str]) -> list[str]:
    """The wanted engines that are installed and fit the set."""
    fits = (name for name in wanted if name != "ours, all known" or given.cases)
    return [name for name in fits if version(name) is not None]


def main() -> None:
    """Print the table, and write it as JSON where asked."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sets", default=",".join(SETS))
    parser.add_argument("--engines", default="all", help="all, ours, or names with semicolons between")
    parser.add_argument("--json", type=Path)
    asked = parser.parse_args()
    chosen = [name for name in ENGINES if name not in PEERS] if asked.engines == "ours" else list(ENGINES)
    chosen = chosen if asked.engines in ("all", "ours") else asked.engines.split(";")
    for name in chosen:
        if version(name) is None:
            print(f"{name}: not installed, left out", file=sys.stderr)
    print("| set (queries) | engine | hit@1 | hit@10 | MRR@10 | nDCG@10 | MRR against best peer |")
    print("|---|---|---|---|---|---|---|")
    report = {}
    for name in asked.sets.split(","):
        if not present(name):
            print(f"{name}: BAYLORE_OUTSIDE_DATA holds no such folder, left out", file=sys.stderr)
            continue
        given = load(name)
        results = [ranked(given, engine) for engine in engines_for(given, chosen)]
        print("\n".join(rows(given, results)), flush=True)
        report[name] = [{**asdict(result), "version": version(result.engine)} for result in results]
    if asked.json:
        asked.json.write_text(json.dumps(report))


if __name__ == "__main__":
    main()
