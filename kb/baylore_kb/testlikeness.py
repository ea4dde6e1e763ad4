"""How far the tests done on two cars agree: the same test with the same outcome, or with another."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from baylore_kb.once_each import once_each
from baylore_kb.trade.model import Trade
from baylore_kb.values import TestDone

# Outcomes of a test the lists do not know say this much.
_UNLISTED = 0.5


@dataclass(frozen=True, slots=True)
class TestAgreement:
    """Weight of outcomes that agree and that contradict, each 0 or more, and the agreeing ones in words."""

    __test__ = False

    agree: float = 0.0
    contradict: float = 0.0
    words: tuple[str, ...] = ()


def compare_tests(asked: Iterable[TestDone], past: Iterable[TestDone], trade: Trade) -> TestAgreement:
    """How the outcomes of tests done on both cars agree; a test done twice counts by its later outcome.

    An outcome usual on any car says little, a rare one much. A test made while the fault was away
    contradicts nothing. No test in common gives zeros.
    """
    theirs = {done.test: done for done in past}
    mine = {done.test: done for done in asked if done.test in theirs}
    agree = contradict = 0.0
    words: list[str] = []
    for test, one in mine.items():
        other = theirs[test]
        says = max(telling(trade, test, one.outcome), telling(trade, test, other.outcome))
        if _same_outcome(one, other):
            agree += says
            words.append(_words(trade, one))
        elif one.fault_present and other.fault_present:
            contradict += says
    return TestAgreement(agree, contradict, tuple(sorted(words)))


def _same_outcome(one: TestDone, other: TestDone) -> bool:
    return one.outcome == other.outcome and (one.part is None or other.part is None or one.part == other.part)


def telling(trade: Trade, test: str, outcome: str) -> float:
    """How much an outcome says, in [0, 1]: 1 less its chance on a car with any other fault."""
    usual = _usual(trade).get(test)
    return _UNLISTED if usual is None else 1.0 - usual.get(outcome, _UNLISTED)


@once_each
def _usual(trade: Trade) -> Mapping[str, Mapping[str, float]]:
    """Chances of a test's outcomes on a car with any other fault, of the tests that tell them."""
    rest = ((test.id, row.p) for test in trade.tests.values() for row in test.likelihood if not row.causes)
    usual: dict[str, Mapping[str, float]] = {}
    for test, chances in rest:
        usual.setdefault(test, chances)
    return usual


def _words(trade: Trade, done: TestDone) -> str:
    test = trade.tests.get(done.test)
    means = (
        next((o.means for o in test.outcomes if o.id == done.outcome), done.outcome) if test else done.outcome
    )
    return f"{test.title if test else done.test}: {means}"
