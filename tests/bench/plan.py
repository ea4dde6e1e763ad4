"""How long a plan takes over 40 causes and 60 tests, beside a fixed sum of the same run.

Run it as `python -m tests.load.bench_plan`. Times are processor times of this machine; the ratio travels
better.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from time import process_time

import numpy as np
from tests.kb.made_trade import made_trade

from baylore_kb.causes import posterior
from baylore_kb.index import Snapshot
from baylore_kb.plan import plan
from baylore_kb.question import understand
from baylore_kb.values import Complaint, Terms, TestDone

CAUSES, TESTS, SEEDS, REPEATS = 40, 60, 8, 6


def plans(seed: int) -> list[Callable[[], object]]:
    """The plan of a fresh complaint, and of the same after two tests."""
    shop = Snapshot.build([], trade=made_trade(CAUSES, TESTS, seed=seed))
    asked = [(), (TestDone("t0", "o0"), TestDone("t1", "o1"))]
    made = []
    for tests in asked:
        question = understand(Complaint("dead", symptoms=("dead",), tests=tests), shop)
        chances = posterior(question, (), shop)
        made.append(lambda c=chances, q=question, s=shop: plan(c, q, s, terms=Terms()))
    return made


def times(what: Callable[[], object], repeats: int = REPEATS) -> list[float]:
    """Processor seconds of each run, so that neighbours on the machine count little."""
    found = []
    for _ in range(repeats):
        start = process_time()
        what()
        found.append(process_time() - start)
    return found


def main() -> None:
    """Print the middle and the slow end of the plan times, and both against the reference."""
    spent = [time for seed in range(SEEDS) for one in plans(seed) for time in times(one)]
    reference = float(np.median(times(lambda: sum(range(1_000_000)), 15)))
    middle, slow = np.percentile(spent, [50, 95])
    sys.stdout.write(
        f"{CAUSES} causes, {TESTS} tests, {len(spent)} plans: "
        f"p50 {middle * 1e3:.1f} ms, p95 {slow * 1e3:.1f} ms\n"
        f"reference sum(range(1_000_000)): {reference * 1e3:.1f} ms; "
        f"ratio p50 {middle / reference:.2f}, p95 {slow / reference:.2f}\n"
    )


if __name__ == "__main__":
    main()
