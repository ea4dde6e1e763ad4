"""Counts by any grouping, kept as cases come and go: what is asked then costs by groups, not by cases."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence

from baylore_kb.errors import UnknownGrouping
from baylore_kb.recurrence.cells import Key
from baylore_kb.recurrence.groups import Group
from baylore_kb.recurrence.sightings import BY, CAR, FAILURE, Sighting, counts, sighting
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case


class Book:
    """Sightings counted by `by`; the same failure coming back on a car is a return, not another sighting.

    `groups` by key, `strata` of (car key, failure key) counts, `car_months` and `months` the traffic;
    `incomplete` lack a name that is counted by, `undated` a time. Raises UnknownGrouping.
    """

    def __init__(self, by: Sequence[str], trade: Trade) -> None:
        check(by)
        self.by, self.trade = tuple(by), trade
        self.car = tuple(name for name in by if name in CAR)
        self.failure = tuple(name for name in by if name in FAILURE)
        self.groups: dict[Key, Group] = {}
        self.strata: dict[tuple[int, int], Counter[tuple[Key, Key]]] = {}
        self.car_months: defaultdict[Key, Counter[int]] = defaultdict(Counter)
        self.months: Counter[int] = Counter()
        self.incomplete, self.undated = 0, 0
        self._seen: dict[str, Sighting] = {}
        self._returned: defaultdict[str, set[str]] = defaultdict(set)

    @property
    def single(self) -> int:
        """How many sightings are counted."""
        return sum(sum(stratum.values()) for stratum in self.strata.values())

    @property
    def compares(self) -> bool:
        """Whether something can be expected: cars against failures."""
        return bool(self.car and self.failure)

    def put(self, case: Case) -> None:
        """Take a case as it is now; one that is no confirmed failure is counted no more."""
        if case.id in self._seen:
            self.drop(case.id)
        if counts(case):
            self.take(sighting(case, self.trade))

    def take_all(self, found: Iterable[Sighting]) -> None:
        """Take sightings that are not there yet, in any order."""
        for one in found:
            self.take(one)

    def take(self, one: Sighting) -> None:
        """Take a sighting that is not there yet."""
        later = [self._seen[id] for id in self._returned.get(one.case.id, ())]
        for each in later:
            self._count(each, -1)
        self._seen[one.case.id] = one
        if one.case.comeback_of is not None:
            self._returned[one.case.comeback_of].add(one.case.id)
        for each in (one, *later):
            self._count(each, 1)

    def drop(self, id: str) -> None:
        """Count a case no more; one that is not there is passed over."""
        one = self._seen.get(id)
        if one is None:
            return
        later = [self._seen[each] for each in self._returned.get(id, ())]
        for each in (one, *later):
            self._count(each, -1)
        del self._seen[id]
        if one.case.comeback_of is not None:
            self._returned[one.case.comeback_of].discard(id)
        for each in later:
            self._count(each, 1)

    def sightings(self) -> Iterator[Sighting]:
        """All that were taken."""
        return iter(self._seen.values())

    def key(self, one: Sighting) -> Key | None:
        """What a sighting is counted under; None where a name is not known."""
        names = one.names
        try:
            return tuple([names[name] for name in self.by])
        except KeyError:
            return None

    def _count(self, one: Sighting, step: int) -> None:
        self.undated += step * (one.when is None)
        key = self.key(one)
        if key is None:
            self.incomplete += step
            return
        group = self.groups.setdefault(key, Group())
        if self._comes_again(one, key):
            group.returns += step
        else:
            self._count_single(one, group, step)
        if not group.held and not group.returns:
            del self.groups[key]

    def _comes_again(self, one: Sighting, key: Key) -> bool:
        earlier = self._seen.get(one.case.comeback_of or "")
        return earlier is not None and self.key(earlier) == key

    def _count_single(self, one: Sighting, group: Group, step: int) -> None:
        if step > 0:
            group.put(one)
        else:
            group.drop(one)
        car, failure = self.pair(one)
        band, year = one.stratum
        # Counted by band, a stratum of its own would expect just what it saw.
        place = (0 if "odometer" in self.car else band), year
        stratum = self.strata.setdefault(place, Counter())
        stratum[car, failure] += step
        if not stratum[car, failure]:
            del stratum[car, failure]
        if one.month is not None:
            self.months[one.month] += step
            self.car_months[car][one.month] += step

    def split(self, key: Key) -> tuple[Key, Key]:
        """The car's and the failure's part of a key."""
        named = dict(zip(self.by, key, strict=True))
        return tuple([named[name] for name in self.car]), tuple([named[name] for name in self.failure])

    def pair(self, one: Sighting) -> tuple[Key, Key]:
        """The car key and the failure key of a sighting that has all names."""
        names = one.names
        return tuple([names[name] for name in self.car]), tuple([names[name] for name in self.failure])


def check(by: Sequence[str]) -> None:
    """Raises UnknownGrouping for names that cannot be counted by, none, or one named twice."""
    for name in by:
        if name not in BY:
            raise UnknownGrouping(name, known=BY)
    if not by or len(set(by)) != len(by):
        raise UnknownGrouping(",".join(by), known=BY)
