"""Let the past cases follow the evidence: those whose cause it rules out fall, those it supports rise."""

from __future__ import annotations

import numpy as np

from baylore_kb.causes.beliefs import Floats
from baylore_kb.causes.columns import Columns
from baylore_kb.causes.weighing import Kept, Weighing
from baylore_kb.values import Complaint, Match

LEAST_FACTOR, MOST_FACTOR = 1.0 / 50.0, 10.0
LEAST, MOST = 0.001, 0.99
NOWHERE = -1
# On public complaints and made-up shops a share from 0.15 to 0.5 ranks better than none (`tests/quality`).
DRAWN = 0.3


def reweighed(matches: tuple[Match, ...], weighing: Weighing, columns: Columns) -> tuple[Match, ...]:
    """The matches with their odds times what the evidence does to the odds of their cause, best first.

    The factor is kept inside [1/50, 10]. Tests done on both cars and quantities read on both are left out
    for that match: likeness counted them. Cases without a cause keep theirs. Ties by case id; no matches
    give ().
    """
    return _with(matches, _reweighed(matches, weighing, columns)) if _spoken(weighing) else matches


def drawn(
    matches: tuple[Match, ...], weighing: Weighing, columns: Columns, *, causes: Floats
) -> tuple[Match, ...]:
    """The matches reweighed, then drawn towards the chance of their cause (N), best first, ties by case id.

    Whether a past case has the same cause is whether its cause is the one: what the other cases and the
    lists say of that cause counts for it too, by a share of the log odds. Cases without a cause keep theirs.
    """
    if not matches:
        return ()
    known = np.append(_log_odds(causes[:-1]), _log_odds(np.array(LEAST)))
    chances = _log_odds(_reweighed(matches, weighing, columns))
    odds = (1.0 - DRAWN) * chances + DRAWN * known[_columns(matches, columns)]
    return _with(matches, np.clip(1.0 / (1.0 + np.exp(-odds)), LEAST, MOST))


def _spoken(weighing: Weighing) -> bool:
    """Whether anything was tested, tried or shown."""
    return bool(weighing.results or weighing.tried or weighing.shown)


def _reweighed(matches: tuple[Match, ...], weighing: Weighing, columns: Columns) -> Floats:
    """(M) the chances after the evidence, also for cases without a cause."""
    chances = np.array([match.chance for match in matches])
    if not matches or not _spoken(weighing):
        return chances
    patterns = _patterns([match.case.complaint for match in matches], weighing)
    places = {pattern: row for row, pattern in enumerate(dict.fromkeys(patterns))}
    rows = [places[pattern] for pattern in patterns]
    odds = chances / (1.0 - chances) * _factors(weighing, list(places))[rows, _columns(matches, columns)]
    return np.asarray(np.clip(odds / (1.0 + odds), LEAST, MOST))


def _columns(matches: tuple[Match, ...], columns: Columns) -> list[int]:
    """The column of each case's cause; any column for a case without one, which keeps its chance."""
    return [columns.at.get(match.case.cause or "", NOWHERE) for match in matches]


def _with(matches: tuple[Match, ...], chances: Floats) -> tuple[Match, ...]:
    """The matches with these chances (M) where their case has a cause, best first, ties by case id."""
    found = [
        Match(match.case, chance, match.why, match.before_tests) if match.case.cause is not None else match
        for match, chance in zip(matches, chances.tolist(), strict=True)
    ]
    return tuple(sorted(found, key=lambda match: (-match.chance, match.case.id)))


def _patterns(past: list[Complaint], weighing: Weighing) -> list[tuple[bool, ...]]:
    """Whether the part shown, then each result, counts for each case: what likeness compared does not."""
    results = [(result.test, result.quantity) for result in weighing.results]
    shown = weighing.shown.test if weighing.shown else None
    return [_counting(each, shown, results) for each in past]


def _counting(past: Complaint, shown: str | None, results: list[tuple[str, str]]) -> tuple[bool, ...]:
    tests = {done.test for done in past.tests}
    read = {reading.quantity for reading in past.readings}
    counts = [test not in tests and (not quantity or quantity not in read) for test, quantity in results]
    return (shown is not None and shown not in tests, *counts)


def _factors(weighing: Weighing, patterns: list[tuple[bool, ...]]) -> Floats:
    """(patterns, N) odds of each cause after the evidence that counts over its odds before any."""
    count = len(patterns)
    counting = np.array(patterns, dtype=float).reshape(count, len(weighing.results) + 1)
    kept = Kept(
        prior=np.repeat(weighing.prior[:1], count, axis=0),
        results=counting[:, 1:],
        settled=counting[:, 0],
        tried=np.ones((count, len(weighing.tried))),
    )
    before, after = weighing.prior[0], weighing.chances(kept)
    odds = after / (1.0 - after) * (1.0 - before) / np.maximum(before, 1e-12)
    return np.asarray(np.clip(odds, LEAST_FACTOR, MOST_FACTOR))


def _log_odds(chances: Floats) -> Floats:
    kept = np.clip(chances, LEAST, MOST)
    return np.asarray(np.log(kept / (1.0 - kept)))
