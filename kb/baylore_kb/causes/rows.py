"""The causes as they are answered: titles, whose experience speaks, and what moved the leading ones."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from functools import cached_property
from itertools import accumulate
from typing import overload

from baylore_kb.causes.beliefs import Floats
from baylore_kb.causes.columns import Columns
from baylore_kb.causes.falling import by_falling_chance
from baylore_kb.causes.moved import Pieces, moved
from baylore_kb.tally import cure_weight
from baylore_kb.values import CauseChance, Dropped, Match, Moved

SPEAKS_FOR = 0.1
MOST_CASES, EXPLAINED = 10, 12
FAMOUS, FELL_TO = 0.1, 0.5


class Rows(Sequence[CauseChance]):
    """All causes by falling chance, ties by id, each put in words when it is looked at.

    `chances` (N) are the final ones, the unlisted last; `closed` the past cases with a cause. The first
    twelve say what moved them.
    """

    def __init__(
        self, chances: Floats, columns: Columns, closed: tuple[Match, ...], *, pieces: Pieces
    ) -> None:
        self._columns, self._pieces = columns, pieces
        self._own = {match.case.cause or "": match for match in reversed(closed)}
        self._spoke = _spoke(closed)
        self._chances = chances.tolist()
        self._falling = by_falling_chance(chances, columns)
        self._rows: dict[int, CauseChance] = {}
        self._moved: dict[int, tuple[Moved, ...]] = {}

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Rows) and tuple(self) == tuple(other)

    __hash__ = None  # type: ignore[assignment]

    def __len__(self) -> int:
        return len(self._falling)

    @overload
    def __getitem__(self, place: int) -> CauseChance: ...
    @overload
    def __getitem__(self, place: slice) -> tuple[CauseChance, ...]: ...
    def __getitem__(self, place: int | slice) -> CauseChance | tuple[CauseChance, ...]:
        places = range(len(self))[place]
        return self._row(places) if isinstance(places, int) else tuple(map(self._row, places))

    def shared_out(self, listed: float, *, most: int, unnamed: float) -> tuple[CauseChance, ...]:
        """The first causes, as many as leave at most `unnamed` of the chance `listed`, and at most `most`.

        What is left unnamed is shared out among them, so that they sum to `listed`.
        """
        sums = list(accumulate(self._chances[column] for column in self._falling[:most]))
        count = next((n for n, named in enumerate(sums, start=1) if listed - named <= unnamed), len(sums))
        more = listed / sums[count - 1]
        return tuple(self._written(place, times=more) for place in range(count))

    def own_systems(self) -> Iterator[tuple[str, float]]:
        """System and chance of each of the shop's own causes that has one."""
        listed = len(self._columns.beliefs.causes)
        for column in (column for column in self._falling if column >= listed):
            system = _as_written(self._columns.ids[column], self._own)[1]
            if system:
                yield system, self._chances[column]

    def _row(self, place: int) -> CauseChance:
        found = self._rows.get(place)
        if found is None:
            found = self._rows[place] = self._written(place)
        return found

    def _written(self, place: int, *, times: float = 1.0) -> CauseChance:
        """The row of a place, its chance times a factor."""
        column = self._falling[place]
        cause = self._columns.ids[column]
        cases = self._spoke.get(cause, ())
        known = self._columns.beliefs.trade.causes.get(cause)
        title, system = (known.title, known.system) if known else _as_written(cause, self._own)
        source = f"{len(cases)} of your cases" if cases else "trade knowledge"
        why = self._why(place, len(cases)) if place < EXPLAINED else ()
        chance = self._chances[column] * times
        return CauseChance(cause, title, chance, len(cases), system, source, why, cases[:MOST_CASES])

    def _why(self, place: int, cases: int) -> tuple[Moved, ...]:
        found = self._moved.get(place)
        if found is None:
            found = self._moved[place] = moved(self._factors[place], self._pieces.pieces, cases=cases)
        return found

    @cached_property
    def _factors(self) -> list[list[float]]:
        """What each piece did to the odds of each of the first twelve."""
        factors: list[list[float]] = self._pieces.factors(self._falling[:EXPLAINED]).T.tolist()
        return factors


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
