"""The trade's chances as arrays, laid out once for a loaded trade: causes by symptom, outcomes by cause."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from baylore_kb.conditions import SHOWS_WHEN, leaning, shown_by
from baylore_kb.once_each import once_each
from baylore_kb.trade.model import Test, Trade
from baylore_kb.trade.places import place_factor

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]

# A cause may show as symptoms its list leaves out: now and then in a suspect system, hardly elsewhere.
SUSPECT_SYSTEM, OTHER_SYSTEM = 0.05, 0.001
NOT_MENDED_BY_A_PART = frozenset(
    ("connector", "not_learned", "misadjusted", "software", "loose")
    + ("air_in", "water_entry", "awake", "low_level", "overfilled")
)


@dataclass(frozen=True, slots=True, eq=False)
class Beliefs:
    """C listed causes, S symptoms, T tests with up to O outcomes; the last column of `lik` is anything else.

    `weight` (C): pseudo-counts. `shows` (S, C): how often the cause shows as the symptom, never 0.
    `lik` (T, O, C + 1): P(outcome | cause), zeros beyond a test's own outcomes; `named` (T, C): the cause
    stands in a class of the test. `read_by`: quantity -> tests with an outcome rule about it.
    `of_component`: component -> (C) its causes; `of_system`: system -> (C) its causes; `by_part` (C): a new
    part cures the cause;
    `spared_without`: trait -> (C) False for causes that need it, traits that none needs left out;
    `shown_in`: condition -> (C) chance that a fault of the cause shows in it rather than otherwise.
    """

    trade: Trade
    causes: tuple[str, ...]
    cause_at: Mapping[str, int]
    systems: tuple[str, ...]
    weight: Floats
    symptom_at: Mapping[str, int]
    shows: Floats
    tests: tuple[str, ...]
    test_at: Mapping[str, int]
    lik: Floats
    named: Bools
    read_by: Mapping[str, tuple[Test, ...]]
    of_component: Mapping[str, Bools]
    of_system: Mapping[str, Bools]
    by_part: Bools
    spared_without: Mapping[str, Bools]
    shown_in: Mapping[str, Floats]

    def row(self, test: str, outcome: str) -> Floats:
        """(C + 1) P(outcome | cause) with anything else last; KeyError for a test or outcome not listed."""
        place = [known.id for known in self.trade.tests[test].outcomes].index(outcome)
        return np.asarray(self.lik[self.test_at[test], place])

    def knows(self, test: str, outcome: str) -> bool:
        """Whether the trade lists the test with this outcome."""
        found = self.trade.tests.get(test)
        return found is not None and any(known.id == outcome for known in found.outcomes)

    def can_point(self, test: str, outcome: str) -> bool:
        """Whether the outcome can show the very part; a test the lists do not know may."""
        found = self.trade.tests.get(test)
        return found is None or any(known.id == outcome and known.names_part for known in found.outcomes)

    def same_circuit(self, one: str, other: str) -> bool:
        """Whether two tests look at one circuit: one system, and mostly the same causes named."""
        if self.trade.tests[one].system != self.trade.tests[other].system:
            return False
        first, second = self.named[self.test_at[one]], self.named[self.test_at[other]]
        return bool((first & second).sum() >= 0.6 * (first | second).sum())


@once_each
def beliefs_of(trade: Trade) -> Beliefs:
    """The arrays of a loaded trade; laid out once for each loaded trade."""
    causes, tests, symptoms = tuple(trade.causes), tuple(trade.tests), tuple(trade.symptoms)
    cause_at, symptom_at = _places(causes), _places(symptoms)
    lik, named = _likelihoods(trade.tests.values(), cause_at)
    return Beliefs(
        trade=trade,
        causes=causes,
        cause_at=cause_at,
        systems=tuple(cause.system for cause in trade.causes.values()),
        weight=np.array([cause.weight for cause in trade.causes.values()], dtype=float),
        symptom_at=symptom_at,
        shows=_shows(trade, symptom_at),
        tests=tests,
        test_at=_places(tests),
        lik=lik,
        named=named,
        read_by=_tests_that_read(trade),
        of_component=_grouped((c.component,) for c in trade.causes.values()),
        of_system=_grouped((c.system,) for c in trade.causes.values()),
        by_part=np.array([c.mode not in NOT_MENDED_BY_A_PART for c in trade.causes.values()], dtype=bool),
        spared_without={t: ~needs for t, needs in _grouped(c.only_if for c in trade.causes.values()).items()},
        shown_in=_shown_in(trade),
    )


def _grouped(names: Iterable[tuple[str, ...]]) -> dict[str, Bools]:
    """Name -> (C) True for the causes that carry it; `names` in step with the causes."""
    rows = list(names)
    found = {name: np.zeros(len(rows), dtype=bool) for row in rows for name in row}
    for column, row in enumerate(rows):
        for name in row:
            found[name][column] = True
    return found


def _places(ids: tuple[str, ...]) -> dict[str, int]:
    return {known: place for place, known in enumerate(ids)}


def _shows(trade: Trade, symptom_at: Mapping[str, int]) -> Floats:
    suspects = [[c.system in s.systems for c in trade.causes.values()] for s in trade.symptoms.values()]
    shows = np.where(np.array(suspects, dtype=bool), SUSPECT_SYSTEM, OTHER_SYSTEM)
    for column, cause in enumerate(trade.causes.values()):
        for place, symptom in enumerate(cause.symptoms):
            shows[symptom_at[symptom], column] = place_factor(place)
    return shows


def _shown_in(trade: Trade) -> dict[str, Floats]:
    leans = [leaning(cause, trade) for cause in trade.causes.values()]
    return {id: np.array([shown_by(lean, id) for lean in leans], dtype=float) for id in SHOWS_WHEN}


def _likelihoods(tests: Iterable[Test], cause_at: Mapping[str, int]) -> tuple[Floats, Bools]:
    listed = list(tests)
    width = max((len(test.outcomes) for test in listed), default=1)
    lik = np.zeros((len(listed), width, len(cause_at) + 1))
    named = np.zeros((len(listed), len(cause_at)), dtype=bool)
    for place, test in enumerate(listed):
        rows = {row.name: [row.p[outcome.id] for outcome in test.outcomes] for row in test.likelihood}
        other = next(row for row in test.likelihood if not row.causes)
        lik[place, : len(test.outcomes)] = np.array(rows[other.name])[:, None]
        for row in test.likelihood:
            columns = [cause_at[cause] for cause in row.causes]
            lik[place, : len(test.outcomes), columns] = rows[row.name]
            named[place, columns] = True
    return lik, named


def _tests_that_read(trade: Trade) -> dict[str, tuple[Test, ...]]:
    """Quantity -> tests with an outcome rule about it, those that are about it foremost first."""
    found: dict[str, list[Test]] = {}
    for test in trade.tests.values():
        for quantity in dict.fromkeys(outcome.rule.quantity for outcome in test.outcomes if outcome.rule):
            found.setdefault(quantity, []).append(test)
    return {
        quantity: tuple(sorted(tests, key=lambda test: test.quantity != quantity))
        for quantity, tests in found.items()
    }
