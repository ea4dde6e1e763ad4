"""Recurring failures: observed against expected, shrunk, with what a shop cannot know."""

from __future__ import annotations

from baylore_kb.recurrence.cells import proportional_ratio, table_expected
from baylore_kb.recurrence.count import Recurrences, recurrences
from baylore_kb.recurrence.intervals import (
    Standardised,
    exact_proportion,
    garwood_count,
    jeffreys_count,
    jeffreys_proportion,
    mid_upper_p,
    standardised,
    upper_p,
    wilson_proportion,
)
from baylore_kb.recurrence.rows import Recurrence
from baylore_kb.recurrence.shrink import CAUTIOUS, Ratio, fitted, log_likelihood

__all__ = [
    "CAUTIOUS",
    "Ratio",
    "Recurrence",
    "Recurrences",
    "Standardised",
    "exact_proportion",
    "fitted",
    "garwood_count",
    "jeffreys_count",
    "jeffreys_proportion",
    "log_likelihood",
    "mid_upper_p",
    "proportional_ratio",
    "recurrences",
    "standardised",
    "table_expected",
    "upper_p",
    "wilson_proportion",
]
