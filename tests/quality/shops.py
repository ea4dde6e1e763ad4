"""Invented shops as collections: past cases of the same confirmed cause are right."""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np
from tests.quality.mishearing import misheard, slipped
from tests.quality.queryset import Query, QuerySet

from baylore_kb.heldout import as_asked, same_job
from baylore_kb.index import Snapshot
from baylore_kb.simulate import Town, nature
from baylore_kb.trade import load
from baylore_kb.values import Case
from baylore_service.demo.generator import SEED as DEMO_SEED
from baylore_service.demo.generator import cases as demo_cases

TOWN_SEED, CASES, ASKED = 11, 1200, 300
Bend = Callable[[str, random.Random], str]


def demo(seed: int) -> QuerySet:
    """The demo shop, told in full; every case with a cause is asked."""
    return _of_cases("demo shop", demo_cases(DEMO_SEED + seed), bend=_as_said)


def town(name: str, bend: Bend) -> Callable[[int], QuerySet]:
    """A shop of an invented town, its notes misheard and mistyped as they are; questions bent further."""
    return lambda seed: _of_cases(name, _town(seed, CASES), bend=bend, asked=ASKED)


@lru_cache(maxsize=2)
def _town(seed: int, count: int) -> tuple[Case, ...]:
    number = TOWN_SEED + seed
    return tuple(Town(nature(load(), np.random.default_rng(number)), number).closed(count))


def _of_cases(name: str, cases: Sequence[Case], *, bend: Bend, asked: int | None = None) -> QuerySet:
    closed = [case for case in cases if case.state == "closed" and case.cause]
    shop, by_cause = Snapshot.build(closed), _by_cause(closed)
    step = max(1, len(closed) // asked) if asked else 1
    return QuerySet(
        name,
        {case.id: written(case) for case in closed},
        tuple(
            _query(case, by_cause[case.cause or ""], same_job(case, shop), bend) for case in closed[::step]
        ),
        tuple(closed),
        vehicle=True,
    )


def _by_cause(cases: Sequence[Case]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = defaultdict(set)
    for case in cases:
        found[case.cause or ""].add(case.id)
    return found


def _query(case: Case, same: set[str], hidden: frozenset[str], bend: Bend) -> Query:
    """The case as it stood before its cause was known, in words bent as asked."""
    text = bend(case.complaint.text, random.Random(case.id))
    known = replace(as_asked(case, with_tests=True), text=text)
    return Query(case.id, text, dict.fromkeys(sorted(same - hidden), 1.0), hidden, known)


def written(case: Case) -> str:
    """All words of a case, its cause and car among them, as an engine for text would be given them."""
    correction = case.correction.text if case.correction else ""
    car, codes = case.complaint.vehicle, " ".join(case.complaint.codes)
    told = (case.complaint.text, case.title, case.cause_title, correction, case.note)
    return " . ".join(words for words in (*told, codes, car.make, car.model) if words)


def _as_said(text: str, chance: random.Random) -> str:
    return text


def _typos(slips: int) -> Bend:
    return lambda text, chance: slipped(text, slips, chance)


def _ears(most: int) -> Bend:
    return lambda text, chance: misheard(text, most, chance)


MADE: dict[str, Callable[[int], QuerySet]] = {
    "demo": demo,
    "town": town("simulated shop", _as_said),
    "town-1-typo": town("simulated shop, 1 typo", _typos(1)),
    "town-2-typos": town("simulated shop, 2 typos", _typos(2)),
    "town-misheard": town("simulated shop, misheard", _ears(2)),
}
