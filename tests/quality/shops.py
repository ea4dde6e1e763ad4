"""Invented shops as collections: past cases of the same confirmed cause are right."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence
from functools import cache
from itertools import chain

import numpy as np
from tests.quality.sets import Query, QuerySet

from baylore_kb.heldout import as_asked, same_job
from baylore_kb.index import Snapshot
from baylore_kb.simulate import Town, nature
from baylore_kb.trade import load
from baylore_kb.values import Case
from baylore_service.demo.generator import cases as demo_cases

CASES, ASKED = 1200, 300
SHORTEST = 5


def _written(case: Case) -> str:
    """All words of a case, as a text engine would be given them."""
    correction = case.correction.text if case.correction else ""
    car = case.complaint.vehicle
    codes = " ".join(case.complaint.codes)
    words = (
        case.complaint.text,
        case.title,
        case.cause_title,
        correction,
        case.note,
        codes,
        car.make,
        car.model,
    )
    return " . ".join(word for word in words if word)


def _of_cases(name: str, cases: Sequence[Case], *, asked: int, slips: int = 0) -> QuerySet:
    closed = [case for case in cases if case.state == "closed" and case.cause]
    by_cause: dict[str, set[str]] = {}
    for case in closed:
        by_cause.setdefault(case.cause or "", set()).add(case.id)
    linked = _linked(closed)
    queries = (
        _query(case, by_cause[case.cause or ""] - linked[case.id], linked[case.id], slips)
        for case in closed[:: max(1, len(closed) // asked)]
    )
    return QuerySet(
        name,
        {case.id: _written(case) for case in closed},
        tuple(query for query in queries if query.grades),
        tuple(closed),
        vehicle=True,
    )


def _linked(cases: Sequence[Case]) -> dict[str, frozenset[str]]:
    shop = Snapshot.build(cases)
    return {case.id: same_job(case, shop) for case in cases}


def _query(case: Case, right: set[str], hidden: frozenset[str], slips: int) -> Query:
    """The case as it stood before its cause was known; `slips` of its longer words misspelt."""
    text = slipped(case.complaint.text, slips, random.Random(case.id))
    known = as_asked(case, with_tests=True)
    said = type(known)(**{**_fields(known), "text": text})
    return Query(case.id, text, dict.fromkeys(right, 1.0), hidden, said)


def _fields(said: object) -> dict[str, object]:
    return {name: getattr(said, name) for name in said.__slots__}  # type: ignore[attr-defined]


def slipped(text: str, slips: int, chance: random.Random) -> str:
    """The text with so many of its longer words misspelt by one letter left out or two swapped."""
    words = text.split()
    long = [n for n, word in enumerate(words) if len(word) >= SHORTEST and word.isalpha()]
    for n in chance.sample(long, min(slips, len(long))):
        at = chance.randrange(1, len(words[n]) - 1)
        left, right = words[n][:at], words[n][at:]
        words[n] = left + right[1:] if chance.random() < 0.5 else left[:-1] + right[0] + left[-1] + right[1:]
    return " ".join(words)


@cache
def _town() -> tuple[Case, ...]:
    """Past cases of an invented town: told in everyday words, dictated, misheard and mistyped."""
    return tuple(Town(nature(load(), np.random.default_rng(11)), 11).closed(CASES))


def _of_town(name: str, slips: int) -> Callable[[], QuerySet]:
    return lambda: _of_cases(name, _town(), asked=ASKED, slips=slips)


MADE: dict[str, Callable[[], QuerySet]] = {
    "demo": lambda: _of_cases("demo shop", tuple(chain(demo_cases())), asked=10_000),
    "town": _of_town("simulated shop", 0),
    "town-1-typo": _of_town("simulated shop, 1 typo", 1),
    "town-2-typos": _of_town("simulated shop, 2 typos", 2),
}
