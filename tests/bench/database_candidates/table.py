"""What was measured, as a table, and how often the sides agree."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from tests.bench.corpus import Question

HEADS = {
    "ready after s": "ready_s",
    "memory MB": "mb",
    "at most MB": "most_mb",
    "p50 ms": "p50",
    "p99 ms": "p99",
    "processor ms": "cpu",
    "its case among three %": "found",
}
MB = 1_000_000


def show(rows: Mapping[str, Mapping[str, Any]], questions: Sequence[Question], *, cases: int) -> None:
    """Print the table."""
    filled(rows["fill"])
    print(f"| side | {' | '.join(HEADS)} | given | compared |\n|{'---|' * (len(HEADS) + 3)}")
    for side, row in rows.items():
        if side != "fill":
            figures = [row[name] for name in HEADS.values()]
            figures += [row["candidates"]["given"], row["candidates"]["compared"]]
            print(f"| {side}, {cases} | " + " | ".join(f"{figure:.1f}" for figure in figures) + " |")
    for side in rows.keys() - {"fill", "memory"} if "memory" in rows else ():
        slips = [each.slips for each in questions]
        pairs = list(zip(slips, rows["memory"]["first"], rows[side]["first"], strict=True))
        for name, least, most in (("all", 0, 9), ("as they should be", 0, 0), ("mistyped", 1, 9)):
            if some := [(one, other) for n, one, other in pairs if least <= n <= most]:
                agreed(f"{side}, {name}", some)


def filled(fill: Mapping[str, Any]) -> None:
    """Print what filling took, and the room on disk."""
    seconds = ", ".join(f"{name[:-2]} {fill[name]:.0f} s" for name in ("rows_s", "index_s", "counts_s"))
    rows, indexes = fill["row_bytes"], fill["index_bytes"]
    beside = fill["bytes"] - rows - indexes
    parts = f"rows {rows / MB:.0f}, beside them {beside / MB:.0f}, indexes {indexes / MB:.0f}"
    print(f"{fill['cases']} cases of all shops filled: {seconds}")
    print(f"on disk {fill['bytes'] / MB:.0f} MB ({parts}), {fill['bytes'] / fill['cases']:.0f} bytes a case")


def agreed(name: str, pairs: Sequence[tuple[list[str], list[str]]]) -> None:
    """Print how often the first cases are the same."""
    same = sum(one == other for one, other in pairs) / len(pairs)
    as_set = sum(set(one) == set(other) for one, other in pairs) / len(pairs)
    first = sum(one[:1] == other[:1] for one, other in pairs) / len(pairs)
    in_order = f"same first three {same:.1%} (in any order {as_set:.1%})"
    print(f"{name}: {in_order}, same first {first:.1%} of {len(pairs)}")
