"""Records of one and the same visit: the case that was written twice.

Two records are of one visit when nothing speaks for two cars or two days and the words are much alike. Cars
of one model with one fault on one day are two visits: without a plate or an odometer in common only nearly
the same words make two records one. All limits are common practice, no source.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from rapidfuzz import fuzz
from rapidfuzz.distance import DamerauLevenshtein

from baylore_kb.tokens import fold
from baylore_kb.units import convert
from baylore_kb.values import Case, Vehicle
from baylore_kb.vehicle import name_key

DAYS_APART = 3
# A car is driven to the fitting bay, not across the country, between two notes of one visit.
KM_APART = 60.0
# Words alike, in percent: of a car that is surely the same, and where nothing tells the cars apart.
SAME_CAR_WORDS, UNSURE_WORDS = 60.0, 92.0
_NEVER = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class Twin:
    """Another record of the same visit: how much alike the words are, in [0, 1], and why in words.

    `exact` when everything written is the same but for ids and times.
    """

    case: Case
    alike: float
    exact: bool
    why: tuple[str, ...]


def twin(one: Case, other: Case) -> Twin | None:
    """The other record as one of the same visit, None where it is not; the same both ways round."""
    if one.id == other.id or _linked(one, other) or _days(one, other) > DAYS_APART:
        return None
    sure = _same_car(one.complaint.vehicle, other.complaint.vehicle)
    if sure is False or _causes_apart(one, other):
        return None
    words = _words_alike(one, other)
    if words < (SAME_CAR_WORDS if sure else UNSURE_WORDS):
        return None
    car = "same car" if sure else "the same kind of car"
    days = _days(one, other)
    when = "same day" if days == 0 else f"{days} day{'s' if days > 1 else ''} apart"
    exact = bare(one) == bare(other)
    said = "the same words" if exact or words >= 99.5 else f"words {words:.0f} % alike"
    return Twin(other, words / 100.0, exact, (car, when, said))


class Visits:
    """Records by car and day, so that those of one visit are found without comparing all with all."""

    def __init__(self, cases: Iterable[Case] = ()) -> None:
        self._by_visit: dict[tuple[str, int], list[Case]] = defaultdict(list)
        for case in cases:
            self.add(case)

    def add(self, case: Case) -> None:
        """A record more."""
        for car in _cars(case.complaint.vehicle):
            self._by_visit[car, _day(case)].append(case)

    def twins(self, case: Case) -> tuple[Twin, ...]:
        """Other records of its visit, the most alike first, ties by id."""
        near = {other.id: other for other in self._near(case)}
        found = [each for other in near.values() if (each := twin(case, other)) is not None]
        return tuple(sorted(found, key=lambda each: (-each.exact, -each.alike, each.case.id)))

    def _near(self, case: Case) -> Iterator[Case]:
        for car in _cars(case.complaint.vehicle):
            for day in range(_day(case) - DAYS_APART, _day(case) + DAYS_APART + 1):
                yield from self._by_visit.get((car, day), ())


def bare(case: Case) -> Case:
    """What a record says: without its id, links and times of writing."""
    return replace(case, id="", opened=None, closed=None, comeback_of=None, returned_as=())


def _cars(car: Vehicle) -> tuple[str, ...]:
    """What a record is looked for by: its VIN, and its model."""
    named = f"{name_key(car.make)}|{name_key(car.model)}"
    return (f"vin {car.vin.upper()}", named) if car.vin else (named,)


def _day(case: Case) -> int:
    return ((case.opened or _NEVER) - _NEVER) // timedelta(days=1)


def _days(one: Case, other: Case) -> int:
    return abs(_day(one) - _day(other))


def _linked(one: Case, other: Case) -> bool:
    """Whether one is written down as a comeback of the other: then they are two visits."""
    mine, theirs = (one.comeback_of, *one.returned_as), (other.comeback_of, *other.returned_as)
    return other.id in mine or one.id in theirs


def _same_car(one: Vehicle, other: Vehicle) -> bool | None:
    """Whether both are one car; None where nothing tells."""
    if one.vin and other.vin:
        return one.vin.upper() == other.vin.upper()
    if _named_apart(one, other):
        return False
    if one.odometer is None or other.odometer is None:
        return None
    return abs(_km(one) - _km(other)) <= KM_APART


def _named_apart(one: Vehicle, other: Vehicle) -> bool:
    pairs = ((name_key(one.make), name_key(other.make)), (name_key(one.model), name_key(other.model)))
    named = any(a and b and DamerauLevenshtein.distance(a, b) > 1 for a, b in pairs)
    return named or (one.year is not None and other.year is not None and one.year != other.year)


def _km(car: Vehicle) -> float:
    return convert(car.odometer.value, car.odometer.unit, to="km") if car.odometer else 0.0


def _causes_apart(one: Case, other: Case) -> bool:
    return one.cause is not None and other.cause is not None and one.cause != other.cause


def _words_alike(one: Case, other: Case) -> float:
    """How much alike what the customer said is, in percent, whatever the order of words."""
    a, b = fold(one.complaint.text), fold(other.complaint.text)
    return max(fuzz.token_sort_ratio(a, b), fuzz.ratio(a, b)) if a and b else 0.0
