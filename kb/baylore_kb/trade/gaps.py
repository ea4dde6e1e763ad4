"""Where the trade lists leave a technician alone: causes and symptoms that no listed test serves."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from numpy.typing import NDArray

from baylore_kb.trade.model import Cause, Symptom, Test, Trade
from baylore_kb.trade.places import place_factor

Floats = NDArray[np.float64]

# How often a cause shows as the symptom in each place of its list; the last holds for all further places.
CONFIRMS_BY, SPLITS_BY, TELLS_APART_BY = 2.0, 2.0, 1.5
LEADING, FAIR_SHARE = 4, 0.05
# Stands for a chance of 0, which only a part seen by eye has.
NEVER = 1e-9


@dataclass(frozen=True, slots=True)
class Alike:
    """Two leading causes of one symptom that no offered test tells apart."""

    symptom: str
    one: str
    other: str


@dataclass(frozen=True, slots=True)
class Gaps:
    """What the lists lack, ids in the order of the lists; all empty when nothing is lacking.

    `unconfirmed`: causes without a confirming test. `unsplit`: symptoms whose first causes no test parts.
    `alike`: pairs of leading causes. `never_first`: tests that no question would choose first.
    """

    unconfirmed: tuple[str, ...]
    unsplit: tuple[str, ...]
    alike: tuple[Alike, ...]
    never_first: tuple[str, ...]


def gaps(trade: Trade) -> Gaps:
    """Everything the lists of this trade lack; empty lists have no gaps."""
    asked = [_Asked.of(symptom, trade) for symptom in trade.symptoms.values()]
    first = {test for one in asked for test in _first_choices(one)}
    confirmed = {cause for one in asked for cause in _confirmed(one)}
    return Gaps(
        unconfirmed=tuple(cause for cause in trade.causes if cause not in confirmed),
        unsplit=tuple(one.symptom for one in asked if not _splits(one)),
        alike=tuple(pair for one in asked for pair in _alike(one)),
        never_first=tuple(test for test in trade.tests if test not in first),
    )


def leading(symptom: str, trade: Trade) -> tuple[tuple[Cause, float], ...]:
    """The causes that show as the symptom with their shares (sum 1), likeliest first; () when none does."""
    held = [
        (cause, cause.weight * place_factor(cause.symptoms.index(symptom)))
        for cause in trade.causes.values()
        if symptom in cause.symptoms
    ]
    whole = sum(share for _, share in held)
    return tuple((cause, share / whole) for cause, share in sorted(held, key=lambda pair: -pair[1]))


def offered_tests(symptom: Symptom, trade: Trade) -> tuple[Test, ...]:
    """Tests that serve the symptom: named by it, or by one of its systems or of its causes' systems.

    A system of the causes counts when it holds at least 5 % of the symptom's chance.
    """
    systems = {*symptom.systems, "any"}
    shares: dict[str, float] = {}
    for cause, share in leading(symptom.id, trade):
        shares[cause.system] = shares.get(cause.system, 0.0) + share
    systems |= {system for system, share in shares.items() if share >= FAIR_SHARE}
    return tuple(test for test in trade.tests.values() if _serves(test, symptom.id, systems))


def _serves(test: Test, symptom: str, systems: set[str]) -> bool:
    if test.for_symptoms:
        return symptom in test.for_symptoms
    return not systems.isdisjoint(test.offer_for)


@dataclass(frozen=True, slots=True)
class _Asked:
    """A symptom with all its causes, likeliest first, and for each test P(outcome | cause) as (O, C + 1)."""

    symptom: str
    causes: Sequence[Cause]
    shares: Sequence[float]
    tests: Sequence[Test]
    tables: Sequence[Floats]

    @staticmethod
    def of(symptom: Symptom, trade: Trade) -> _Asked:
        rows = leading(symptom.id, trade)
        causes = [cause for cause, _ in rows]
        tests = offered_tests(symptom, trade)
        tables = [_table(test, causes) for test in tests]
        return _Asked(symptom.id, causes, [share for _, share in rows], tests, tables)

    def ratio(self, one: int, other: int) -> float:
        """The most any outcome of any test changes the odds of two causes; -1 is anything else."""
        pair = [*self.causes[one : one + 1], *self.causes[other : other + 1]]
        fitting = (table for test, table in zip(self.tests, self.tables, strict=True) if _fits(test, pair))
        return max((_odds(table[:, one], table[:, other]) for table in fitting), default=1.0)


def _odds(one: Floats, other: Floats) -> float:
    ratios = (one + NEVER) / (other + NEVER)
    return float(max(ratios.max(), 1.0 / ratios.min()))


def _fits(test: Test, causes: Sequence[Cause]) -> bool:
    """Whether every vehicle that can have these causes can have the test."""
    return {trait for cause in causes for trait in cause.only_if}.issuperset(test.only_if)


def _table(test: Test, causes: Sequence[Cause]) -> Floats:
    """Chances of the outcomes; one that shows the very part stands once for each part it can show."""
    by_cause: Mapping[str, Mapping[str, float]] = {c: row.p for row in test.likelihood for c in row.causes}
    rest = next(row.p for row in test.likelihood if not row.causes)
    rows = [by_cause.get(cause.id, rest) for cause in causes] + [rest]
    shown = [place for place, cause in enumerate(causes) if cause.id in by_cause]
    lines: list[Floats] = []
    for outcome in test.outcomes:
        line = np.array([p[outcome.id] for p in rows])
        lines += _by_part(line, shown) if outcome.names_part else [line]
    return np.array(lines)


def _by_part(line: Floats, shown: Sequence[int]) -> list[Floats]:
    parts = [np.where(np.arange(len(line)) == place, line, 0.0) for place in shown]
    return [*parts, np.where(np.isin(np.arange(len(line)), shown), 0.0, line)]


def _confirmed(asked: _Asked) -> Iterator[str]:
    """Causes under which an outcome of a test they can have is twice as likely as under anything else."""
    for cause in asked.causes:
        if any(_confirms(test, cause) for test in asked.tests if _fits(test, [cause])):
            yield cause.id


def _confirms(test: Test, cause: Cause) -> bool:
    own = next((row.p for row in test.likelihood if cause.id in row.causes), None)
    rest = next(row.p for row in test.likelihood if not row.causes)
    return own is not None and any(p >= CONFIRMS_BY * rest[outcome] for outcome, p in own.items())


def _splits(asked: _Asked) -> bool:
    pairs = list(combinations(range(len(asked.causes[:LEADING])), 2))
    return not pairs or any(asked.ratio(one, other) >= SPLITS_BY for one, other in pairs)


def _alike(asked: _Asked) -> Iterator[Alike]:
    known = [place for place, share in enumerate(asked.shares) if share >= FAIR_SHARE]
    for one, other in combinations(known, 2):
        first, second = asked.causes[one], asked.causes[other]
        if first.component != second.component and asked.ratio(one, other) < TELLS_APART_BY:
            yield Alike(asked.symptom, first.id, second.id)


def _first_choices(asked: _Asked) -> Iterator[str]:
    """Tests that tell most a minute when two causes, or a cause and anything else, are equally likely.

    Each test is held only against those open to the same member on the same vehicle.
    """
    known = [place for place, share in enumerate(asked.shares) if share >= FAIR_SHARE]
    both = zip(asked.tests, asked.tables, strict=True)
    rates = [_bits(table[:, [*known, -1]]) / (test.setup_min + test.do_min) for test, table in both]
    for test, rate in zip(asked.tests, rates, strict=True):
        rivals = [found for rival, found in zip(asked.tests, rates, strict=True) if _rival(rival, test)]
        if ((rate > 0) & (rate >= np.max(rivals, axis=0))).any():
            yield test.id


def _rival(rival: Test, test: Test) -> bool:
    return rival.skill <= test.skill and {*rival.only_if} <= {*test.only_if}


def _bits(table: Floats) -> Floats:
    """(O, K) chances to (K, K): the bits an outcome tells of two causes when each is as likely."""
    seen = table + NEVER
    half = seen[:, :, None] * np.log2(2.0 * seen[:, :, None] / (seen[:, :, None] + seen[:, None, :]))
    told = half.sum(axis=0)
    return np.asarray((told + told.T) / 2.0)
