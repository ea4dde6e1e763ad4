"""Which tests may be offered for a complaint."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import takewhile

import numpy as np

from baylore_kb.causes import Beliefs, Posterior
from baylore_kb.once_each import once_each
from baylore_kb.plan.problem import Ints
from baylore_kb.question import Question
from baylore_kb.trade.model import Test, Trade

FAIR_SHARE = 0.05
# A cause this likely is worth its own proof, whatever the complaint's words were.
WORTH_PROVING = 0.1
HEARD_AT_LEAST = 0.15


def offered(question: Question, posterior: Posterior, trade: Trade) -> tuple[Test, ...]:
    """Tests not yet done that serve the complaint, in the trade's order.

    A test serves a heard symptom (`for_symptoms`) or, without such a list, a system of one, or a system
    that holds a fair share of the chance (`offer_for`); never a vehicle known to lack a needed trait, and
    where the trait is not known only a test of a system in question. The confirming test of a likely cause
    serves too.
    """
    heard = heard_symptoms(question, trade)
    systems = {system for symptom in heard for system in trade.symptoms[symptom].systems}
    systems |= {system for system, share in by_system(posterior).items() if share >= FAIR_SHARE}
    done = {test.test for test in question.complaint.tests}
    serving = _serving(trade)
    proofs = _proofs(posterior, trade)
    places = {serving.at[proof] for proof in proofs if proof in serving.at}.union(
        serving.any,
        *(serving.symptoms.get(symptom, ()) for symptom in heard),
        *(serving.systems.get(system, ()) for system in systems),
    )
    found = (serving.tests[place] for place in sorted(places))
    return tuple(test for test in found if test.id not in done and _fits(test, question, systems))


def heard_symptoms(question: Question, trade: Trade) -> frozenset[str]:
    """Listed symptoms heard clearly enough to choose tests by."""
    clear = (known.symptom for known in question.heard if known.chance >= HEARD_AT_LEAST)
    return frozenset(symptom for symptom in clear if symptom in trade.symptoms)


def by_system(posterior: Posterior) -> Mapping[str, float]:
    """The share of the chance that each system holds."""
    systems, place = _systems(posterior.columns.beliefs)
    sums = np.bincount(place, weights=posterior.chances[: len(place)], minlength=len(systems))
    shares = dict(zip(systems, sums.tolist(), strict=True))
    for system, chance in posterior.causes.own_systems():
        shares[system] = shares.get(system, 0.0) + chance
    return shares


@once_each
def _systems(beliefs: Beliefs) -> tuple[tuple[str, ...], Ints]:
    """The systems of the listed causes, and the place of each cause's among them."""
    at = {system: place for place, system in enumerate(dict.fromkeys(beliefs.systems))}
    return tuple(at), np.array([at[system] for system in beliefs.systems], dtype=np.intp)


def _proofs(posterior: Posterior, trade: Trade) -> frozenset[str]:
    leading = takewhile(lambda row: row.probability >= WORTH_PROVING, posterior.causes)
    likely = (trade.causes.get(row.cause) for row in leading)
    return frozenset(cause.confirm_test for cause in likely if cause)


@dataclass(frozen=True, slots=True)
class _Serving:
    """The tests of the lists in order, and the places of those that serve a symptom, a system, or any."""

    tests: tuple[Test, ...]
    at: Mapping[str, int]
    symptoms: Mapping[str, set[int]]
    systems: Mapping[str, set[int]]
    any: frozenset[int]


@once_each
def _serving(trade: Trade) -> _Serving:
    symptoms: dict[str, set[int]] = defaultdict(set)
    systems: dict[str, set[int]] = defaultdict(set)
    tests = tuple(trade.tests.values())
    for place, test in enumerate(tests):
        for symptom in test.for_symptoms:
            symptoms[symptom].add(place)
        for system in () if test.for_symptoms else test.offer_for:
            systems[system].add(place)
    anywhere = frozenset(systems.pop("any", ()))
    return _Serving(tests, {test.id: n for n, test in enumerate(tests)}, symptoms, systems, anywhere)


def _fits(test: Test, question: Question, systems: set[str]) -> bool:
    if not test.only_if:
        return True
    if not question.absent.isdisjoint(test.only_if):
        return False
    return test.system in systems or question.present.issuperset(test.only_if)
