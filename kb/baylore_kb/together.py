"""Words that keep coming together count less than as many words that come alone.

A bulletin's standing phrases and a shop's habits ("customer states", "road tested ok") are many words and
one piece of evidence. How strongly two words come together is the correlation of their presence over a
sample of the cases (the phi coefficient; Yule 1912); a word's weight is divided by the sum of its
correlations, its own among them, each raised to 1.5. A word that counts for less than one use is that much
less company: what an abbreviation stands for does not lower the abbreviation. On public recall documents
this lifts the mean reciprocal rank from .58 to .65 and nowhere lowers it beyond noise (`tests/quality`).
"""

from __future__ import annotations

from zlib import crc32

import numpy as np
import numpy.typing as npt

Floats = npt.NDArray[np.float64]
Presence = npt.NDArray[np.float32]

SAMPLE = 2048
POWER = 1.5
# A word of fewer sampled cases says nothing yet of the company it keeps.
FEWEST = 3.0


def level(cases: int) -> int:
    """The level of a sample over so many cases: each level halves it, so that about `SAMPLE` remain."""
    return max(0, (cases - 1).bit_length() - SAMPLE.bit_length() + 1) if cases > 0 else 0


def level_of(case_id: str) -> int:
    """The highest level whose sample still holds the case: chance, fixed by its id alone."""
    return 32 - crc32(case_id.encode()).bit_length()


def crowding(present: Presence, uses: Floats) -> Floats:
    """For each word (row) over sampled cases (columns, 1 where present) what to divide its weight by, given
    how often each is used (over 0).

    1 for a word that comes alone or is too rare to say, near n for n words that always come together.
    """
    words, cases = present.shape
    if words < 2 or cases < FEWEST:
        return np.ones(words)
    counts = present.sum(axis=1, dtype=np.float64)
    share = counts / cases
    both = (present @ present.T).astype(np.float64) / cases - np.outer(share, share)
    spread = np.sqrt(share * (1.0 - share))
    alike = np.divide(
        both, np.outer(spread, spread), out=np.zeros_like(both), where=np.outer(spread, spread) > 0
    )
    known = counts >= FEWEST
    strength = np.where(np.outer(known, known), np.clip(alike, 0.0, 1.0), 0.0) ** POWER
    np.fill_diagonal(strength, 1.0)
    return np.maximum(strength @ np.minimum(uses, 1.0), 1.0)
