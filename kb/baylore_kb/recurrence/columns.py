"""Many cases as columns of numbers, so that they are counted at once instead of one by one."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

import numpy as np

from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.sightings import BAND_KM, FAILURE, TOP_BAND, name_of, utc
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case
from baylore_kb.visits import odometer_km

NO_MONTH, NO_BAND = -1, -1
# Counted over all places there could be, unless those are so many times as many as what is counted.
_SPARSE = 8
# As many keys as short numbers tell apart, which are put in order much quicker.
_SHORT = 32_000
_NOT_READ = float("nan")


@dataclass(frozen=True, slots=True)
class Columns:
    """Cases in step with the number of their key, odometer band and month; -1 for what is not known.

    `keys` has the key of each number. Months are twelve to a year.
    """

    keys: tuple[Key, ...]
    numbers: np.ndarray
    bands: np.ndarray
    months: np.ndarray

    def by_key(self, cases: Sequence[Case]) -> Iterator[tuple[Sequence[Case], np.ndarray]]:
        """The cases of each key and their months; `cases` are those the columns were made of."""
        most = len(self.keys)
        order = np.argsort(self.numbers.astype(np.int16 if most < _SHORT else np.int64), kind="stable")
        ends = np.cumsum(np.bincount(self.numbers + 1, minlength=most + 1)).tolist()
        sorted_cases, months = list(map(cases.__getitem__, order.tolist())), self.months[order]
        for first, last in zip(ends, ends[1:], strict=False):
            yield sorted_cases[first:last], months[first:last]

    def by_place(self, side: np.ndarray) -> Iterator[tuple[int, tuple[int, int], int]]:
        """Side, stratum of band and year, how often; `side` numbers each key's car or failure."""
        years = np.where(self.months == NO_MONTH, 0, self.months // 12)
        low = _least(years)
        wide = int((years - low).max(initial=0)) + 1
        places = (self.bands + 1) * wide + np.where(years == 0, 0, years - low)
        known = self.numbers >= 0
        for number, place, count in _counted(side[self.numbers[known]], places[known]):
            year = place % wide
            yield number, (place // wide - 1, year + low if year else 0), count

    def by_month(self, side: np.ndarray) -> Iterator[tuple[int, int, int]]:
        """Side, month and how often, of those with a month."""
        dated = (self.months != NO_MONTH) & (self.numbers >= 0)
        months = self.months[dated]
        low = int(months.min()) if len(months) else 0
        for number, month, count in _counted(side[self.numbers[dated]], months - low):
            yield number, month + low, count


def _least(years: np.ndarray) -> int:
    """One less than the first year there is, as 0 stands for no year."""
    known = years[years > 0]
    return int(known.min()) - 1 if len(known) else 0


def _counted(first: np.ndarray, second: np.ndarray) -> Iterator[tuple[int, int, int]]:
    """Each pair of numbers with how often it is there."""
    if not len(first):
        return
    wide = int(second.max()) + 1
    codes = first * wide + second
    most = int(codes.max()) + 1
    if most <= _SPARSE * len(codes):
        counts = np.bincount(codes, minlength=most)
        found = np.flatnonzero(counts)
        counts = counts[found]
    else:
        found, counts = np.unique(codes, return_counts=True)
    for code, count in zip(found.tolist(), counts.tolist(), strict=True):
        yield code // wide, code % wide, count


def columns(cases: Sequence[Case], trade: Trade, by: Sequence[str]) -> Columns:
    """The columns of closed cases with a cause, counted by these names; number -1 where one is not known."""
    months, bands = _months(cases), _bands(cases)
    keys: list[Key] = [()]
    numbers = np.zeros(len(cases), dtype=np.int64)
    for name in by:
        values, codes = _read(name, cases, trade, months=months, bands=bands)
        wide = max(1, len(values))
        found, numbers = _dense(np.where((numbers < 0) | (codes < 0), -1, numbers * wide + codes))
        keys = [(*keys[code // wide], values[code % wide]) for code in found]
    return Columns(tuple(keys), numbers, bands, months)


def _dense(numbers: np.ndarray) -> tuple[list[int], np.ndarray]:
    """The distinct numbers of 0 and more, and each one's place among them; -1 stays."""
    most = int(numbers.max(initial=-1)) + 1
    if most > _SPARSE * len(numbers):
        distinct, at = np.unique(numbers, return_inverse=True)
        unknown = int(distinct[0] < 0)
        return distinct[unknown:].tolist(), at - unknown
    there = np.zeros(most + 1, dtype=bool)
    there[numbers] = True
    found = np.flatnonzero(there[:most])
    places = np.full(most + 1, -1, dtype=np.int64)
    places[found] = np.arange(len(found))
    return found.tolist(), places[numbers]


def _months(cases: Sequence[Case]) -> np.ndarray:
    whens = [case.opened or case.closed for case in cases]
    if not all(when is not None and when.tzinfo is UTC for when in whens):
        whens = [utc(when) for when in whens]
    found = [NO_MONTH if when is None else _month(when) for when in whens]
    return np.array(found, dtype=np.int64)


def _month(when: datetime) -> int:
    return when.year * 12 + when.month - 1


def _bands(cases: Sequence[Case]) -> np.ndarray:
    measures = [case.complaint.vehicle.odometer for case in cases]
    if all(each is None or each.unit == "km" for each in measures):
        return bands_of([_NOT_READ if each is None else each.value for each in measures])
    kms = [odometer_km(case) for case in cases]
    return bands_of([_NOT_READ if km is None else km for km in kms])


def bands_of(kms: Sequence[float]) -> np.ndarray:
    """The odometer bands, as `band_of`; -1 for NaN."""
    found = np.array(kms, dtype=float)
    known = np.where(np.isnan(found), 0.0, found)
    return np.where(np.isnan(found), NO_BAND, np.clip(known // BAND_KM, 0, TOP_BAND)).astype(np.int64)


def _read(
    name: str, cases: Sequence[Case], trade: Trade, *, months: np.ndarray, bands: np.ndarray
) -> tuple[list[str], np.ndarray]:
    """The distinct values of a name and each case's place among them, -1 where it is not known.

    What a value depends on is looked at for every case, the value worked out once for each.
    """
    given = _given(name, cases, trade, months=months, bands=bands)
    values: dict[str, int] = {}
    codes: dict[Hashable, int] = {}
    for each, at in dict(zip(given, range(len(cases)), strict=True)).items():
        value = name_of(name, cases[at], trade, month=int(months[at]), band=int(bands[at]))
        codes[each] = values.setdefault(value, len(values)) if value else -1
    return list(values), np.array([codes[each] for each in given], dtype=np.int64)


def _given(
    name: str, cases: Sequence[Case], trade: Trade, *, months: np.ndarray, bands: np.ndarray
) -> Sequence[Hashable]:
    """What a name of each case depends on."""
    if name == "season":
        return list(np.where(months == NO_MONTH, -1, months % 12).tolist())
    if name == "odometer":
        return list(bands.tolist())
    return _failures(cases, trade) if name in FAILURE else list(map(_DEPENDS[name], cases))


def _failures(cases: Sequence[Case], trade: Trade) -> list[Hashable]:
    """A listed cause says all of a failure; of one that is not, what was corrected counts too."""
    listed = trade.causes
    return [
        cause if (cause := case.cause) in listed else (cause, case.cause_system, _corrected(case))
        for case in cases
    ]


def _corrected(case: Case) -> str | None:
    return case.correction.component if case.correction else None


def _make_and_model(case: Case) -> Hashable:
    vehicle = case.complaint.vehicle
    return vehicle.make, vehicle.model


_DEPENDS: dict[str, Callable[[Case], Hashable]] = {
    "make": lambda case: case.complaint.vehicle.make,
    "model": _make_and_model,
    "year": lambda case: case.complaint.vehicle.year,
    "engine": lambda case: case.complaint.vehicle.engine,
}
