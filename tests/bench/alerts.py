"""How many planted defects are found, how soon, and how many alerts are false.

`python -m tests.bench.alerts --shops 20` prints the table. The limit of the sums was chosen on the shops from
seed 0 on; `--first 5000` asks shops it was not chosen on.
"""

from __future__ import annotations

import argparse
import statistics

from tests.quality.planted import Plan, Told, told


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--shops", type=int, default=20)
    asked.add_argument("--first", type=int, default=0, help="seed of the first shop")
    given = asked.parse_args()
    seeds = range(given.first, given.first + given.shops)
    print("300 watched pairs, defects of ratio 4 from month 24 on, 72 months, looked at each month's end")
    print("cases a month | models differ | false alerts a quarter | found 3 months after 8th  | wait, months")
    for monthly in (30.0, 60.0, 120.0):
        for spread in (0.0, 0.05):
            line(monthly, spread, seeds)


def line(monthly: float, spread: float, seeds: range) -> None:
    """Print a line: false alerts of even shops, power in shops with four defects."""
    even = [told(Plan(monthly=monthly, spread=spread), seed) for seed in seeds]
    planted = [told(Plan(monthly=monthly, spread=spread, defects=4), 1000 + seed) for seed in seeds]
    false = sum(one.false for one in even) / sum(one.quarters for one in even)
    found, of = sum(one.found for one in planted), sum(one.defects for one in planted)
    print(
        f"{monthly:13.0f} | {'a little' if spread else 'no':>13} | {false:22.2f} | "
        f"{found:>5} of {of:<4} ({100 * found / of:3.0f} %) {'':8} | {middle(planted):6.1f}",
        flush=True,
    )


def middle(planted: list[Told]) -> float:
    """The middle wait from onset to the alert, of defects found."""
    return statistics.median([wait for one in planted for wait in one.waits] or [float("nan")])


if __name__ == "__main__":
    main()
