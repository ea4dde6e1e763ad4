"""Counts by any grouping, kept as cases come and go: what is asked then costs by groups, not by cases."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence

from baylore_kb.errors import UnknownGrouping
from baylore_kb.recurrence.cells import Key, Margins, Pair, Sides, numbered
from baylore_kb.recurrence.columns import NO_MONTH, Columns, columns
from baylore_kb.recurrence.counted import Counted
from baylore_kb.recurrence.groups import Group
from baylore_kb.recurrence.sightings import BY, CAR, FAILURE, Sighting, counts, sighting
from baylore_kb.recurrence.steady import Steady
from baylore_kb.recurrence.traffic import Traffic
from baylore_kb.trade.model import Trade
from baylore_kb.values import Case


class Book:
    """Sightings counted by `by`; the same failure coming back on a car is a return, not another sighting.

    `groups` by key, `strata` the totals by odometer band and year, `traffic` the cases by month;
    `incomplete` lack a name that is counted by, `undated` a time. Raises UnknownGrouping.
    """

    def __init__(self, by: Sequence[str], trade: Trade) -> None:
        check(by)
        self.by, self.trade = tuple(by), trade
        self.car = tuple(name for name in by if name in CAR)
        self.failure = tuple(name for name in by if name in FAILURE)
        self.groups: dict[Key, Group] = {}
        self.strata: dict[tuple[int, int], Margins] = {}
        self.traffic = Traffic()
        self.incomplete, self.undated = 0, 0
        self._seen: dict[str, Case] = {}
        self._returned: defaultdict[str, set[str]] = defaultdict(set)
        self._split: dict[Key, Pair] = {}
        self._counted: Counted | None = None
        self.steady = Steady()
        self._banded = "odometer" not in self.car

    @property
    def single(self) -> int:
        """How many sightings are counted."""
        return sum(stratum.total for stratum in self.strata.values())

    @property
    def counted(self) -> Counted:
        """The keys with any count, not only returns; the same object until one comes or goes."""
        if self._counted is None:
            keys = [key for key, group in self.groups.items() if group.count]
            sides = Sides.of([self.split(key) for key in keys])
            self._counted = Counted(keys, [self.groups[key] for key in keys], sides)
        return self._counted

    @property
    def compares(self) -> bool:
        """Whether something can be expected: cars against failures."""
        return bool(self.car and self.failure)

    def put(self, case: Case) -> None:
        """Take a case as it is now; one that is no confirmed failure is counted no more."""
        if case.id in self._seen:
            self.drop(case.id)
        if counts(case):
            self.take(case)

    def fill(self, cases: Iterable[Case]) -> None:
        """Take many cases, quicker than one by one; those of a book that holds some already one by one."""
        held = [case for case in cases if case.cause and case.state == "closed"]
        if self._seen:
            later = held
        else:
            later = [case for case in held if case.comeback_of is not None]
            self._take_all(held if not later else [case for case in held if case.comeback_of is None])
        for case in later:
            self.put(case)

    def _take_all(self, cases: Sequence[Case]) -> None:
        """Take the first cases, of which none is a return."""
        self._seen, self._counted = {case.id: case for case in cases}, None
        found = columns(cases, self.trade, self.by)
        self.undated += int((found.months == NO_MONTH).sum())
        self.incomplete += int((found.numbers < 0).sum())
        for key, (held, months) in zip(found.keys, found.by_key(cases), strict=True):
            self.groups[key] = Group(held, months)
        self._add_up(found)

    def _add_up(self, found: Columns) -> None:
        """Count what was met, each kind once with how often."""
        pairs = [self.split(key) for key in found.keys]
        cars, of_car = numbered([car for car, _ in pairs])
        failures, of_failure = numbered([failure for _, failure in pairs])
        for car, place, count in found.by_place(of_car):
            self._stratum(place).add_row(cars[car], count)
        for failure, place, count in found.by_place(of_failure):
            self._stratum(place).add_column(failures[failure], count)
        for car, month, count in found.by_month(of_car):
            self.traffic.count(cars[car], month, count)

    def _stratum(self, place: tuple[int, int]) -> Margins:
        """The totals of a stratum. Counted by band, one of its own would expect just what it saw."""
        place = place if self._banded else (0, place[1])
        found = self.strata.get(place)
        if found is None:
            found = self.strata[place] = Margins()
        return found

    def take(self, case: Case) -> None:
        """Take a closed case with a cause that is not there yet."""
        id, earlier = case.id, case.comeback_of
        later = [self._seen[each] for each in self._returned.get(id, ())]
        for each in later:
            self._count(each, -1)
        self._seen[id] = case
        if earlier is not None:
            self._returned[earlier].add(id)
        self._count(case, 1)
        for each in later:
            self._count(each, 1)

    def drop(self, id: str) -> None:
        """Count a case no more; one that is not there is passed over."""
        case = self._seen.get(id)
        if case is None:
            return
        later = [self._seen[each] for each in self._returned.get(id, ())]
        for each in (case, *later):
            self._count(each, -1)
        del self._seen[id]
        if case.comeback_of is not None:
            self._returned[case.comeback_of].discard(id)
        for each in later:
            self._count(each, 1)

    def cases(self) -> Iterator[Case]:
        """All that were taken."""
        return iter(self._seen.values())

    def key(self, one: Sighting) -> Key | None:
        """What a sighting is counted under; None where a name is not known."""
        names = one.names
        try:
            return tuple([names[name] for name in self.by])
        except KeyError:
            return None

    def _count(self, case: Case, step: int) -> None:
        one = sighting(case, self.trade, self.by)
        if one.when is None:
            self.undated += step
        key = self.key(one)
        if key is None:
            self.incomplete += step
            return
        group = self.groups.get(key)
        if group is None:
            group = self.groups[key] = Group()
        if one.case.comeback_of is not None and self._comes_again(one, key):
            group.returns += step
        else:
            self._count_single(one, group, key, step=step)
        if self._counted is not None:
            self._counted.forget(key)
        if step < 0 and not group.count and not group.returns:
            del self.groups[key]

    def _comes_again(self, one: Sighting, key: Key) -> bool:
        earlier = self._seen.get(one.case.comeback_of or "")
        return earlier is not None and self.key(sighting(earlier, self.trade, self.by)) == key

    def _count_single(self, one: Sighting, group: Group, key: Key, *, step: int) -> None:
        if step > 0:
            group.put(one.case, one.month)
        else:
            group.drop(one.case, one.month)
        if group.count == max(step, 0):
            self._counted = None
        car, failure = self.split(key)
        self.steady.touch(car)
        self._stratum(one.stratum).add(car, failure, step)
        if one.month is not None:
            self.traffic.count(car, one.month, step)

    def split(self, key: Key) -> Pair:
        """The car's and the failure's part of a key."""
        found = self._split.get(key)
        if found is None:
            named = dict(zip(self.by, key, strict=True))
            found = tuple([named[name] for name in self.car]), tuple([named[name] for name in self.failure])
            self._split[key] = found
        return found


def check(by: Sequence[str]) -> None:
    """Raises UnknownGrouping for names that cannot be counted by, none, or one named twice."""
    for name in by:
        if name not in BY:
            raise UnknownGrouping(name, known=BY)
    if not by or len(set(by)) != len(by):
        raise UnknownGrouping(",".join(by), known=BY)
