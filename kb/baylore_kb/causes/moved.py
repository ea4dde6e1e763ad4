"""What moved a cause: the change of its odds by each piece of evidence, found by leaving the piece out."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from baylore_kb.causes.beliefs import Floats
from baylore_kb.values import Moved

MOST, LEAST_CHANGE, FARTHEST = 5, 1.05, 1e6


class Piece(NamedTuple):
    """A piece of evidence in words; `cases` for the past cases together, `result` for what was done."""

    label: str
    cases: bool = False
    result: bool = False


@dataclass(frozen=True, slots=True)
class Pieces:
    """`chances` (E + 1, N): row 0 with all E pieces, row e + 1 with all but piece e."""

    pieces: tuple[Piece, ...]
    chances: Floats

    def factors(self, columns: int | list[int]) -> Floats:
        """(E) odds of the cause with all pieces over its odds with all but one; (E, K) of several causes."""
        chances = self.chances[:, columns]
        odds = chances / (1.0 - chances)
        return np.asarray(odds[0] / odds[1:])

    def worst(self, column: int) -> str:
        """The words of the result that pushed the cause down most; there must be a result."""
        ranked = zip(self.factors(column), self.pieces, strict=True)
        results = [(float(factor), piece.label) for factor, piece in ranked if piece.result]
        return min(results)[1]


def moved(factors: Sequence[float], pieces: Sequence[Piece], *, cases: int) -> tuple[Moved, ...]:
    """At most five pieces that moved a cause, strongest first; those within 5 % of 1 are left out.

    A factor, in step with the pieces, is the change of the cause's odds against all others when everything is
    reckoned again without the piece, so factors of pieces that say the same do not multiply. That the fault
    comes and goes stays known even without the test that showed it. `cases`: how many of the shop's cases
    speak for the cause.
    """
    found = [
        (-abs(math.log(held)), _words(piece, cases, up=factor > 1.0), held)
        for piece, factor in zip(pieces, factors, strict=True)
        if not 1.0 / LEAST_CHANGE <= factor <= LEAST_CHANGE
        for held in (min(max(factor, 1.0 / FARTHEST), FARTHEST),)
    ]
    return tuple(Moved(by, held) for _, by, held in sorted(found)[:MOST])


def _words(piece: Piece, cases: int, *, up: bool) -> str:
    if not piece.cases:
        return piece.label
    if up and cases:
        return f"{cases} of your cases"
    return "Your like cases" if up else "Your like cases had other causes"
