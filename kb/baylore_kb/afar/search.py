"""Weighs a question and scores the few documents it is given, by counts of all cases."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from baylore_kb.search import Search
from baylore_kb.segment import Sample

# Numbers of terms spelt like a word, with their likeness.
Near = Mapping[str, list[tuple[int, float]]]


@dataclass(frozen=True, slots=True)
class FarSearch(Search):
    """Searches the documents it is given; what words come together is told by a sample of all.

    `near` are the terms spelt like each word of a question, where they were looked for before.
    """

    company: Sample
    near: Near

    def alike(self, word: str) -> list[tuple[int, float]]:
        """As `Search.alike` has it, or as it was found before."""
        return self.near[word] if word in self.near else Search.alike(self, word)

    def _present(self, numbers: Sequence[int], least: int) -> list[npt.NDArray[np.float32]]:
        everyone = np.ones(len(self.company.columns), dtype=np.bool_)
        return [self.company.presence(numbers, everyone, least)]
