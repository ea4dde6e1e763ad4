"""The sightings of one key, and what they have in common, worked out once until they change."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

import numpy as np

from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.sightings import title_of
from baylore_kb.recurrence.tally import Facts, Tally
from baylore_kb.recurrence.traffic import laid_out
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case

# The names of a key, the words for it, and what its cases have in common.
Told = tuple[Mapping[str, str], str, Facts]


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
        "_tally",
        "_told",
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
        self._told: Told | None = None

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
        self._facts = self._told = None

    def by_month(self, start: int, count: int) -> np.ndarray:
        """How many there are of each of `count` months from `start` on; none lies outside."""
        return laid_out(self.months, start, count)

    def told(self, by: Sequence[str], key: Key, trade: Trade) -> Told:
        """What a row says of them by themselves, put together once until they change."""
        if self._told is None:
            names, facts = dict(zip(by, key, strict=True)), self.facts
            self._told = names, ", ".join(title_of(*one, facts.sample, trade) for one in names.items()), facts
        return self._told

    @property
    def facts(self) -> Facts:
        """What they have in common; of at least one."""
        if self._tally is None:
            self._tally = Tally(self.held.values())
        if self._facts is None:
            self._facts = self._tally.facts()
        return self._facts
