"""Where the cases lie, and what is looked for there."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Protocol

from baylore_kb.afar.brief import Brief
from baylore_kb.values import Case


@dataclass(frozen=True, slots=True)
class Sought:
    """What is looked for: what each term and facet is worth, and how many cases have it.

    `mean_length` is that of all cases in terms, `ideal` what a case with every asked term would be worth;
    cases as of `revision` or later will do.
    """

    terms: Mapping[str, float]
    facets: Mapping[str, float]
    counts: Mapping[str, int]
    mean_length: float
    ideal: float
    cases: int
    revision: int = 0


# Ids of the cases to be read, of those found.
Choose = Callable[[Sequence[Brief]], Sequence[str]]


class Source(Protocol):
    """Where the cases lie."""

    @property
    def cases(self) -> Mapping[str, Case]:
        """All cases by id."""

    def find(self, sought: Sought, *, limit: int, choose: Choose) -> Sequence[bytes]:
        """Of the cases that are not open and promise most, at most `limit`, those chosen, as they were
        written by `write`.
        """

    def alike(self, words: Sequence[str]) -> Mapping[str, Sequence[tuple[str, float]]]:
        """Words of the cases spelt like these, most alike first, with their likeness in [0, 1]."""
