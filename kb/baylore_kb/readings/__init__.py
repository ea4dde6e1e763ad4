"""Judge measured values against what was to be expected under their conditions."""

from __future__ import annotations

from baylore_kb.readings.compare import closeness, similarity
from baylore_kb.readings.judge import judge
from baylore_kb.readings.lookup import quantity_named
from baylore_kb.readings.outcome import outcome_of
from baylore_kb.readings.worked import derive, judge_all

__all__ = [
    "closeness",
    "derive",
    "judge",
    "judge_all",
    "outcome_of",
    "quantity_named",
    "similarity",
]
