"""Which tests may be offered for a complaint."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import takewhile

from baylore_kb.causes import Posterior
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
    proofs = _proofs(posterior, trade)
    return tuple(
        test
        for test in trade.tests.values()
        if test.id not in done
        and (test.id in proofs or _serves(test, heard=heard, systems=systems))
        and _fits(test, question, systems)
    )


def heard_symptoms(question: Question, trade: Trade) -> frozenset[str]:
    """Listed symptoms heard clearly enough to choose tests by."""
    clear = (known.symptom for known in question.heard if known.chance >= HEARD_AT_LEAST)
    return frozenset(symptom for symptom in clear if symptom in trade.symptoms)


def by_system(posterior: Posterior) -> Mapping[str, float]:
    """The share of the chance that each system holds."""
    beliefs, chances = posterior.columns.beliefs, posterior.chances
    shares: dict[str, float] = {}
    for system, chance in zip(beliefs.systems, chances.tolist(), strict=False):
        shares[system] = shares.get(system, 0.0) + chance
    for system, chance in posterior.causes.own_systems():
        shares[system] = shares.get(system, 0.0) + chance
    return shares


def _proofs(posterior: Posterior, trade: Trade) -> frozenset[str]:
    leading = takewhile(lambda row: row.probability >= WORTH_PROVING, posterior.causes)
    likely = (trade.causes.get(row.cause) for row in leading)
    return frozenset(cause.confirm_test for cause in likely if cause)


def _serves(test: Test, *, heard: frozenset[str], systems: set[str]) -> bool:
    if test.for_symptoms:
        return not heard.isdisjoint(test.for_symptoms)
    return "any" in test.offer_for or not systems.isdisjoint(test.offer_for)


def _fits(test: Test, question: Question, systems: set[str]) -> bool:
    if not question.absent.isdisjoint(test.only_if):
        return False
    return test.system in systems or question.present.issuperset(test.only_if)
