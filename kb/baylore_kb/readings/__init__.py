"""Judge measured values against what was to be expected under their conditions."""

from __future__ import annotations

from baylore_kb.readings.compare import Derived, Tolerance, derived, similarity, tolerance
from baylore_kb.readings.judge import judge
from baylore_kb.readings.lookup import quantity_named
from baylore_kb.readings.outcome import outcome_of

__all__ = [
    "Derived",
    "Tolerance",
    "derived",
    "judge",
    "outcome_of",
    "quantity_named",
    "similarity",
    "tolerance",
]
