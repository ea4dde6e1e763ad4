"""How far the tests done on two cars agree: the same test with the same outcome, or with another."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from baylore_kb.once_each import once_each
from baylore_kb.trade.model import Trade
from baylore_kb.values import TestDone

# Outcomes of a test the lists do not know say this much.
_UNLISTED = 0.5


class TestsHere:
    """The tests done on the car in question, ready to be compared with those done on many others.

    A test done twice counts by its later outcome. An outcome usual on any car says little, a rare one much. A
    test made while the fault was away contradicts nothing.
    """

    __test__ = False

    def __init__(self, done: Iterable[TestDone], trade: Trade) -> None:
        self._trade = trade
        self._mine = {each.test: each for each in done}
        usual = _usual(trade)
        self._usual = {test: usual.get(test) for test in self._mine}

    def weigh(self, past: Iterable[TestDone]) -> tuple[float, float]:
        """Weight of outcomes that agree and that contradict, each 0 or more; 0 for no test in common."""
        agree = contradict = 0.0
        for mine, theirs in self._both(past):
            if _same_outcome(mine, theirs):
                agree += self._says(mine, theirs)
            elif mine.fault_present and theirs.fault_present:
                contradict += self._says(mine, theirs)
        return agree, contradict

    def words(self, past: Iterable[TestDone]) -> tuple[str, ...]:
        """The outcomes that agree, in words."""
        alike = (mine for mine, theirs in self._both(past) if _same_outcome(mine, theirs))
        return tuple(sorted(_words(self._trade, each) for each in alike))

    def _both(self, past: Iterable[TestDone]) -> list[tuple[TestDone, TestDone]]:
        """Each test done on both cars, as it was done here and there."""
        theirs = {done.test: done for done in past if done.test in self._mine}
        return [(mine, theirs[test]) for test, mine in self._mine.items() if test in theirs] if theirs else []

    def _says(self, mine: TestDone, theirs: TestDone) -> float:
        """How much the more telling outcome says, in [0, 1]: 1 less its chance with any other fault."""
        usual = self._usual[mine.test]
        if usual is None:
            return _UNLISTED
        return 1.0 - min(usual.get(mine.outcome, _UNLISTED), usual.get(theirs.outcome, _UNLISTED))


def _same_outcome(one: TestDone, other: TestDone) -> bool:
    return one.outcome == other.outcome and (one.part is None or other.part is None or one.part == other.part)


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
