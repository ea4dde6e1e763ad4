"""The causes as they are answered: titles, whose experience speaks, and what moved the leading ones."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace

from baylore_kb.causes.beliefs import Floats
from baylore_kb.causes.columns import Columns
from baylore_kb.causes.moved import Pieces, moved
from baylore_kb.tally import cure_weight
from baylore_kb.values import CauseChance, Dropped, Match

SPEAKS_FOR = 0.1
MOST_CASES, EXPLAINED = 10, 12
FAMOUS, FELL_TO = 0.1, 0.5


def rows(
    chances: Floats, columns: Columns, closed: tuple[Match, ...], *, pieces: Pieces
) -> tuple[CauseChance, ...]:
    """All causes by falling chance, ties by id; `chances` (N) are the final ones, the unlisted last.

    `closed` are the past cases with a cause. The first twelve say what moved them.
    """
    spoke = _spoke(closed)
    own = {match.case.cause or "": match for match in reversed(closed)}
    falling = sorted(zip((-chances[:-1]).tolist(), columns.ids, strict=True))
    found = [
        _row(cause, -less, columns=columns, cases=spoke.get(cause, ()), own=own) for less, cause in falling
    ]
    first = [
        replace(row, moved=moved(columns.at[row.cause], pieces, cases=row.cases)) for row in found[:EXPLAINED]
    ]
    return (*first, *found[EXPLAINED:])


def _spoke(closed: tuple[Match, ...]) -> dict[str, tuple[str, ...]]:
    """Cause -> ids of the cases that speak for it, most telling first: surer matches, then verified cures."""
    found: dict[str, list[Match]] = defaultdict(list)
    for match in closed:
        if match.chance >= SPEAKS_FOR:
            found[match.case.cause or ""].append(match)
    return {
        cause: tuple(match.case.id for match in sorted(held, key=_telling)) for cause, held in found.items()
    }


def _telling(match: Match) -> tuple[float, float, str]:
    weight = cure_weight(match.case)
    return -match.chance * weight, -weight, match.case.id


def _row(
    cause: str, chance: float, *, columns: Columns, cases: tuple[str, ...], own: Mapping[str, Match]
) -> CauseChance:
    known = columns.beliefs.trade.causes.get(cause)
    title, system = (known.title, known.system) if known else _as_written(cause, own)
    source = f"{len(cases)} of your cases" if cases else "trade knowledge"
    return CauseChance(cause, title, chance, len(cases), system, source, from_cases=cases[:MOST_CASES])


def _as_written(cause: str, own: Mapping[str, Match]) -> tuple[str, str | None]:
    """Title and system of the shop's own cause, as its most alike case has them."""
    match = own.get(cause)
    return (match.case.cause_title or cause, match.case.cause_system) if match else (cause, None)


def dropped(before: Floats, pieces: Pieces, columns: Columns) -> tuple[Dropped, ...]:
    """Leading causes of the chances `before` (N) any result that fell by half or more, and what did it."""
    if not any(piece.result for piece in pieces.pieces):
        return ()
    found = []
    for column in (-before[:-1]).argsort(kind="stable")[:5]:
        after = float(pieces.chances[0, column])
        if before[column] >= FAMOUS and after <= FELL_TO * before[column]:
            cause = columns.ids[column]
            by = pieces.worst(int(column))
            found.append(Dropped(cause, columns.title(cause), float(before[column]), after, by))
    return tuple(found)
