"""The sightings of one key, and what they have in common, worked out once until they change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from baylore_kb.recurrence.tally import Facts, Tally
from baylore_kb.values import Case


def laid_out(counts: Mapping[int, int], start: int, months: int) -> np.ndarray:
    """Counts by month as a row of `months` months from `start` on; none but 0 lies outside."""
    found = np.zeros(months, dtype=np.int64)
    for month, count in counts.items():
        if count:
            found[month - start] = count
    return found


class Group:
    """The cases of one key, and how often it came back on the same car.

    Cases that were taken all at once are looked at one by one only when something of them is asked for.
    """

    __slots__ = (
        "_facts",
        "_first",
        "_first_months",
        "_held",
        "_months",
        "_row",
        "_tally",
        "_title",
        "count",
        "returns",
    )

    def __init__(self, first: Sequence[Case] = (), months: np.ndarray | None = None) -> None:
        """Start with many cases and, in step, their months; -1 for one without."""
        self._first, self._first_months = first, months
        self.count = len(first)
        self._held: dict[str, Case] | None = None
        self.returns = 0
        self._tally: Tally | None = None
        self._facts: Facts | None = None
        self._months: Counter[int] | None = None
        self._row: tuple[int, np.ndarray] | None = None
        self._title: str | None = None

    @property
    def held(self) -> dict[str, Case]:
        """The cases by id."""
        if self._held is None:
            self._held = {case.id: case for case in self._first}
            self._first = ()
        return self._held

    def put(self, case: Case, month: int | None) -> None:
        """Count a case that is not there yet."""
        months, held = self.months, self.held
        held[case.id] = case
        self.count += 1
        self._forget()
        if self._tally is not None:
            self._tally.put(case)
        if month is not None:
            months[month] += 1

    def drop(self, case: Case, month: int | None) -> None:
        """Count it no more."""
        months, held = self.months, self.held
        del held[case.id]
        self.count -= 1
        self._forget()
        if self._tally is not None:
            self._tally.drop(case)
        if month is not None:
            months[month] -= 1

    @property
    def months(self) -> Counter[int]:
        """How many there are of each month."""
        if self._months is None:
            known = () if self._first_months is None else self._first_months.tolist()
            self._months = Counter(month for month in known if month >= 0)
            self._first_months = None
        return self._months

    def _forget(self) -> None:
        """What was worked out before a change is not so any more."""
        self._facts = self._row = self._title = None

    def by_month(self, start: int, count: int) -> np.ndarray:
        """How many there are of each of `count` months from `start` on; none lies outside."""
        if self._row is None or self._row[0] != start or len(self._row[1]) != count:
            self._row = start, laid_out(self.months, start, count)
        return self._row[1]

    def title(self, write: Callable[[Case], str]) -> str:
        """The words for the key, written from one of its cases once until they change."""
        if self._title is None:
            self._title = write(self.facts.sample)
        return self._title

    @property
    def facts(self) -> Facts:
        """What they have in common; of at least one."""
        if self._tally is None:
            self._tally = Tally(self.held.values())
        if self._facts is None:
            self._facts = self._tally.facts()
        return self._facts
