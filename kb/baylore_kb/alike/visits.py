"""Finding the records of one visit among many without comparing all with all.

Each record is put under some keys: its VIN, its model and its odometer by week, three least values of hashes
of its words by week (min-wise hashing: Broder 1997), and its content. Only records with a key in common are
compared, and of those under one key only the latest few, so that the time grows with the number of records.
Records with neither VIN nor odometer whose model is spelt two ways meet by their words alone: of ten that are
nearly the same, nine are found.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from zlib import crc32

from baylore_kb.alike.bare import gist
from baylore_kb.alike.one_car import KM_ON_ONE_DAY
from baylore_kb.alike.record import DAYS_APART, Record, record
from baylore_kb.alike.twin import Twin, ordered, twin_record
from baylore_kb.values import Case

MOST_COMPARED = 25
_WEEK = 2 * DAYS_APART + 1
_HASHES = ((0x9E3779B1, 0x7F4A7C15), (0x85EBCA6B, 0xC2B2AE35), (0x27D4EB2F, 0x165667B1))
_MASK = 0xFFFFFFFF


class Visits:
    """Records to be looked up by the visit they tell of."""

    def __init__(self, cases: Iterable[Case] = ()) -> None:
        self._under: dict[int, list[Record]] = defaultdict(list)
        for case in cases:
            self.add(case)

    def add(self, case: Case) -> None:
        """A record more."""
        one = record(case)
        for key in _keys(one):
            self._under[key].append(one)

    def twins(self, case: Case) -> tuple[Twin, ...]:
        """Other records of its visit: exact ones first, then the most alike, ties by id."""
        one = record(case)
        near = {other.case.id: other for other in self._near(one)}
        return ordered(each for other in near.values() if (each := twin_record(one, other)) is not None)

    def _near(self, one: Record) -> Iterator[Record]:
        for key in _keys(one, around=True):
            yield from self._under.get(key, ())[-MOST_COMPARED:]


def _keys(one: Record, *, around: bool = False) -> Iterator[int]:
    """What a record lies under, or `around` it all that others of its visit may lie under."""
    yield hash(("content", gist(one.case)))
    if one.car.vin:
        yield hash(("vin", one.car.vin.upper()))
    stretches = _stretches(one, 1 if around else 0)
    least = tuple(_least(one.words))
    for week in _weeks(one, DAYS_APART if around else 0):
        yield hash((one.model, week))
        yield from (hash((words, week)) for words in least)
        yield from (hash((stretch, week, "km")) for stretch in stretches)


def _weeks(one: Record, days: int) -> set[int]:
    """The runs of seven days its opening and its closing lie in, so many days around them."""
    moments = (one.opened, one.opened if one.closed is None else one.closed)
    return {(moment + by) // _WEEK for moment in moments for by in (-days, days)}


def _stretches(one: Record, around: int) -> range:
    """The stretches of the odometer it lies in."""
    if one.km is None:
        return range(0)
    stretch = int(one.km // KM_ON_ONE_DAY)
    return range(stretch - around, stretch + around + 1)


def _least(words: frozenset[str]) -> Iterator[int]:
    """The least value of each hash over the words; which hash is told by its place."""
    if not words:
        return
    plain = [crc32(word.encode()) for word in words]
    for place, (times, plus) in enumerate(_HASHES):
        yield min((each * times + plus) & _MASK for each in plain) * len(_HASHES) + place
