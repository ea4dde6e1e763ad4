"""Failures that come back across vehicles, against what a shop could expect."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from baylore_kb.errors import UnknownGrouping
from baylore_kb.recurrence.cells import Counts, Pair, counted
from baylore_kb.recurrence.notes import notes
from baylore_kb.recurrence.rows import Recurrence, recurrence
from baylore_kb.recurrence.shrink import CAUTIOUS, ENOUGH_PAIRS, Ratio, fitted
from baylore_kb.recurrence.sightings import BY, Sighting, sightings, utc
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

Key = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Recurrences:
    """Rows, most surely more than expected first, and plain notes on what they cannot tell.

    `cases` counts the closed cases the rows rest on.
    """

    by: tuple[str, ...]
    rows: tuple[Recurrence, ...]
    notes: tuple[str, ...]
    cases: int


def recurrences(
    cases: Iterable[Case],
    *,
    by: Sequence[str] = ("model", "system"),
    since: datetime | None = None,
    until: datetime | None = None,
    min_cases: int = 2,
    trade: Trade | None = None,
) -> Recurrences:
    """Closed cases grouped `by` any of model, system, component, cause, against the expected.

    Expected counts come from the model's and the failure's totals, within odometer band and
    year, so they need "model" and one more in `by`. `since` is included, `until` not; times
    without zone are UTC. Rows of under `min_cases` are left out. No cases, no rows.
    Raises UnknownGrouping, and UnknownUnit or UnitMismatch for a bad odometer.
    """
    _check(by)
    every = sightings(cases, trade or load())
    dated = [s for s in every if _inside(s, utc(since), utc(until))]
    full = [s for s in dated if all(name in s.names for name in by)]
    single, returns = _without_returns(full, by)
    rows = _rows(single, by, returns, min_cases)
    undated = _undated(every) if since or until else 0
    said = notes(by=tuple(by), single=len(single), incomplete=len(dated) - len(full), undated=undated)
    return Recurrences(tuple(by), tuple(rows), said, len(single))


def _rows(
    single: Sequence[Sighting], by: Sequence[str], returns: Mapping[Key, int], min_cases: int
) -> list[Recurrence]:
    counts, prior = _against(single, by)
    groups = ((key, held) for key, held in _grouped(single, by).items() if len(held) >= min_cases)
    rows = [
        recurrence(
            dict(zip(by, key, strict=True)),
            held,
            returns=returns[key],
            expected=counts.expected[_pair(held[0], by)] if counts else None,
            prior=prior,
        )
        for key, held in groups
    ]
    return sorted(rows, key=lambda row: (-(row.low or 0.0), -row.observed, row.title))


def _check(by: Sequence[str]) -> None:
    for name in by:
        if name not in BY:
            raise UnknownGrouping(name, known=BY)
    if not by or len(set(by)) != len(by):
        raise UnknownGrouping(",".join(by), known=BY)


def _inside(sighting: Sighting, since: datetime | None, until: datetime | None) -> bool:
    if sighting.when is None:
        return since is None and until is None
    return (since is None or sighting.when >= since) and (until is None or sighting.when < until)


def _undated(every: Sequence[Sighting]) -> int:
    return sum(s.when is None for s in every)


def _key(sighting: Sighting, by: Sequence[str]) -> Key:
    return tuple(sighting.names[name] for name in by)


def _without_returns(
    found: Sequence[Sighting], by: Sequence[str]
) -> tuple[list[Sighting], defaultdict[Key, int]]:
    """The sightings without those that are the same failure coming back, and comebacks by key."""
    keys = {s.case.id: _key(s, by) for s in found}
    single: list[Sighting] = []
    returns: defaultdict[Key, int] = defaultdict(int)
    for sighting in found:
        key = keys[sighting.case.id]
        again = sighting.case.comeback_of is not None and keys.get(sighting.case.comeback_of) == key
        returns[key] += again
        if not again:
            single.append(sighting)
    return single, returns


def _grouped(found: Sequence[Sighting], by: Sequence[str]) -> dict[Key, list[Sighting]]:
    groups: defaultdict[Key, list[Sighting]] = defaultdict(list)
    for sighting in found:
        groups[_key(sighting, by)].append(sighting)
    return dict(groups)


def _pair(sighting: Sighting, by: Sequence[str]) -> Pair:
    failure = " / ".join(sighting.names[name] for name in by if name != "model")
    return sighting.names["model"], failure


def _against(found: Sequence[Sighting], by: Sequence[str]) -> tuple[Counts | None, Ratio]:
    """Counts against the expected and the prior to shrink with; no counts without model and failure."""
    if "model" not in by or len(by) < 2:
        return None, CAUTIOUS
    counts = counted((_pair(sighting, by), sighting.stratum) for sighting in found)
    if len(counts.observed) < ENOUGH_PAIRS:
        return counts, CAUTIOUS
    cells = counts.expected
    return counts, fitted([counts.observed.get(pair, 0) for pair in cells], list(cells.values()))
