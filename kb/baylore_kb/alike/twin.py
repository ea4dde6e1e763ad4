"""Two records of one visit.

Two records are of one visit when nothing speaks for two cars or two days and what they tell is much alike.
Cars of one model with one fault on one day are two visits: without a VIN or an odometer in common only nearly
the same words, and enough of them, make two records one. Limits: common practice, no source; what they find
and what they confuse is counted by tests/bench/doubles.py.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from baylore_kb.alike.bare import same_content
from baylore_kb.alike.likeness import Likeness, likeness
from baylore_kb.alike.one_car import one_car
from baylore_kb.alike.record import DAYS_APART, Record, days_between, record
from baylore_kb.values import Case

# How much alike two records are: of a car that is surely the same, and where nothing tells the cars apart.
SAME_CAR_LIKENESS, UNSURE_LIKENESS = 0.6, 0.92
# So few words may well be said of two cars.
FEWEST_WORDS = 6


@dataclass(frozen=True, slots=True)
class Twin:
    """Another record of the same visit: how much alike the two are, in [0, 1], and why in words.

    `exact` when everything written is the same but for ids, links and times.
    """

    case: Case
    alike: float
    exact: bool
    why: tuple[str, ...]


def twin(one: Case, other: Case) -> Twin | None:
    """The other record as one of the same visit, None where it is not; the same both ways round."""
    return twin_record(record(one), record(other))


def twins_among(case: Case, others: Iterable[Case]) -> tuple[Twin, ...]:
    """The records of its visit among others: exact ones first, then the most alike, ties by id."""
    one = record(case)
    return ordered(each for other in others if (each := twin_record(one, record(other))) is not None)


def ordered(twins: Iterable[Twin]) -> tuple[Twin, ...]:
    """Exact ones first, then the most alike, ties by id."""
    return tuple(sorted(twins, key=lambda each: (-each.exact, -each.alike, each.case.id)))


def twin_record(one: Record, other: Record) -> Twin | None:
    """As `twin`, of cases read before.

    The same content of another week is a twin only where the odometer stands too: else it is the fault again.
    """
    if one.case.id == other.case.id or _linked(one.case, other.case):
        return None
    days = days_between(one, other)
    exact = same_content(one.case, other.case)
    if days > DAYS_APART and not (exact and one.km is not None):
        return None
    sure = one_car(one, other)
    if sure is False:
        return None
    if exact:
        return Twin(other.case, 1.0, True, (*_car_and_day(sure, days), "the very same"))
    if _other_cause(one, other):
        return None
    told = likeness(one, other)
    if not (told.score >= SAME_CAR_LIKENESS if sure else _nearly_the_same(one, other, told)):
        return None
    return Twin(other.case, told.score, False, (*_car_and_day(sure, days), *told.why))


def _nearly_the_same(one: Record, other: Record, told: Likeness) -> bool:
    """Whether so much is alike that the cars need not be told apart."""
    enough = min(len(one.words), len(other.words)) >= FEWEST_WORDS
    return enough and not told.disagrees and min(told.words, told.score) >= UNSURE_LIKENESS


def _car_and_day(sure: bool | None, days: int) -> tuple[str, str]:
    when = "same day" if days == 0 else f"{days} day{'s' if days > 1 else ''} apart"
    return "same car" if sure else "the same kind of car", when


def _linked(one: Case, other: Case) -> bool:
    """Whether one is written down as a comeback of the other: then they are two visits."""
    mine, theirs = (one.comeback_of, *one.returned_as), (other.comeback_of, *other.returned_as)
    return other.id in mine or one.id in theirs


def _other_cause(one: Record, other: Record) -> bool:
    a, b = one.case.cause, other.case.cause
    return a is not None and b is not None and a != b
