"""How much it says that two cases share a thing, by how many of the shop's cases have it."""

from __future__ import annotations

# So many cases without the thing stand beside the shop's own: a share of few cases says nothing yet.
FEW = 30.0


def seldom(held: int, cases: int) -> float:
    """1 less the share of `cases` that have the thing, in (0, 1]; near 1 while there are few cases."""
    return 1.0 - held / (cases + FEW)
