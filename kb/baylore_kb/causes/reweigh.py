"""Let the past cases follow the evidence: those whose cause it rules out fall, those it supports rise."""

from __future__ import annotations

from collections import defaultdict

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
    # the last column stands for causes that are not in question: the least chance holds for them
    listed = np.append(causes[:-1], LEAST)
    known = listed[_columns(matches, columns)]
    chances, towards = _log_odds(np.array([_reweighed(matches, weighing, columns), known]))
    odds = (1.0 - DRAWN) * chances + DRAWN * towards
    return _with(matches, np.clip(1.0 / (1.0 + np.exp(-odds)), LEAST, MOST))


def _spoken(weighing: Weighing) -> bool:
    """Whether anything was tested, tried or shown."""
    return bool(weighing.results or weighing.tried or weighing.shown)


def _reweighed(matches: tuple[Match, ...], weighing: Weighing, columns: Columns) -> Floats:
    """(M) the chances after the evidence, also for cases without a cause."""
    chances = np.array([match.chance for match in matches])
    if not matches or not _spoken(weighing):
        return chances
    compared = _compared([match.case.complaint for match in matches], weighing)
    places = {each: row for row, each in enumerate(dict.fromkeys(compared))}
    rows = [places[each] for each in compared]
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


def _compared(past: list[Complaint], weighing: Weighing) -> list[int]:
    """For each case a number whose bits say what likeness compared: the part shown, then each result."""
    by_test, by_quantity = defaultdict[str, int](int), defaultdict[str, int](int)
    if weighing.shown:
        by_test[weighing.shown.test] |= 1
    for place, result in enumerate(weighing.results, start=1):
        by_test[result.test] |= 1 << place
        if result.quantity:
            by_quantity[result.quantity] |= 1 << place
    tests, quantities = dict(by_test), dict(by_quantity)
    found = []
    for complaint in past:
        bits = 0
        for done in complaint.tests:
            bits |= tests.get(done.test, 0)
        for reading in complaint.readings if quantities else ():
            bits |= quantities.get(reading.quantity, 0)
        found.append(bits)
    return found


def _factors(weighing: Weighing, compared: list[int]) -> Floats:
    """(compared, N) odds of each cause after the evidence not compared yet over its odds before any."""
    count = len(compared)
    places = range(1 + len(weighing.results))
    counting = np.array([[not bits >> place & 1 for place in places] for bits in compared], dtype=float)
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
