"""Recurring failures: observed against expected, shrunk, with what a shop cannot know."""

from __future__ import annotations

from baylore_kb.recurrence.book import Book
from baylore_kb.recurrence.cells import proportional_ratio, table_expected
from baylore_kb.recurrence.change import Change, change_point
from baylore_kb.recurrence.count import (
    Asked,
    Recurrences,
    dated_book,
    key_of,
    read,
    recurrences,
    row_by_month,
)
from baylore_kb.recurrence.cusum import Rise, best_step, rise, run_length, safe_limit
from baylore_kb.recurrence.discovery import adjusted, discoveries, least_count
from baylore_kb.recurrence.disproportion import TwoByTwo
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
from baylore_kb.recurrence.lives import Span, Step, Weibull, median_life, survival, weibull, weibull_of_failed
from baylore_kb.recurrence.monthly import Monthly, month_name
from baylore_kb.recurrence.part_life import PartLife, part_life
from baylore_kb.recurrence.repeats import Repairs, Watched, mean_repairs
from baylore_kb.recurrence.rows import Recurrence
from baylore_kb.recurrence.shrink import CAUTIOUS, Ratio, fitted, log_likelihood
from baylore_kb.recurrence.sightings import BY
from baylore_kb.recurrence.trend import Trend, trend, trend_of
from baylore_kb.recurrence.two_gammas import TwoGammas
from baylore_kb.recurrence.two_rates import Rate, conditional_p, e_test_p
from baylore_kb.recurrence.unusual import Unusual, unusual

__all__ = [
    "Unusual",
    "unusual",
    "BY",
    "month_name",
    "Monthly",
    "row_by_month",
    "key_of",
    "part_life",
    "PartLife",
    "dated_book",
    "read",
    "Book",
    "Asked",
    "CAUTIOUS",
    "Change",
    "Rate",
    "Ratio",
    "Recurrence",
    "Recurrences",
    "Repairs",
    "Rise",
    "Span",
    "Standardised",
    "Step",
    "Trend",
    "TwoByTwo",
    "TwoGammas",
    "Watched",
    "Weibull",
    "adjusted",
    "best_step",
    "change_point",
    "conditional_p",
    "discoveries",
    "e_test_p",
    "exact_proportion",
    "fitted",
    "garwood_count",
    "jeffreys_count",
    "jeffreys_proportion",
    "least_count",
    "log_likelihood",
    "mean_repairs",
    "median_life",
    "mid_upper_p",
    "proportional_ratio",
    "recurrences",
    "rise",
    "run_length",
    "safe_limit",
    "standardised",
    "survival",
    "table_expected",
    "trend",
    "trend_of",
    "upper_p",
    "weibull",
    "weibull_of_failed",
    "wilson_proportion",
]
