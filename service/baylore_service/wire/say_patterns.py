"""What a row of recurring failures says, as a sentence: the same on screen, in print and in tables."""

from __future__ import annotations

from baylore_kb.recurrence import Recurrence
from baylore_service.wire.shown import figure, percent

STANDS = {"strong": "stands out strongly", "signal": "stands out", "none": "is as expected"}


def say_row(row: Recurrence) -> str:
    """How often it was seen, against what, and how sure that is."""
    seen = f"{row.title}: seen {row.observed} times"
    if row.expected is None or row.ratio is None or row.low is None or row.high is None:
        return f"{seen}."
    return (
        f"{seen}, {figure(row.expected)} expected; with caution {figure(row.ratio)} times as often "
        f"({figure(row.low)} to {figure(row.high)}): {STANDS[row.signal]}."
    )


def say_since(row: Recurrence) -> str:
    """Since when it differs and whether it rises; what is not known is said to be so."""
    return f"{say_row(row)} {_changed(row)} {_rises(row)}"


def _changed(row: Recurrence) -> str:
    if row.since is None:
        return "No month stands out as the one it began in."
    how = "more" if row.since.times > 1 else "less"
    return (
        f"Since {row.since.month} (likely {row.since.earliest} to {row.since.latest}) it comes "
        f"{_times(row.since.times)} {how} often."
    )


def _times(times: float) -> str:
    return f"{figure(times if times >= 1 else 1 / times)} times"


def _rises(row: Recurrence) -> str:
    if row.trend is None:
        return "Too few cases or months for a trend."
    if not row.trend.rising:
        return "It does not rise beyond luck."
    return f"It rises by {percent(row.trend.per_period - 1)} a month."
