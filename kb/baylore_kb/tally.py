"""What the shop's closed cases add up to: causes, test outcomes by cause, corrections, labour and prices."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from baylore_kb.values import Case, TestDone

Counts = Mapping[str, float]

_NOTHING: Counts = MappingProxyType({})
VERIFIED, UNVERIFIED = 1.0, 0.5


@dataclass(frozen=True, slots=True)
class Sum:
    """Weighted count and total of a quantity; the mean of nothing is None."""

    weight: float = 0.0
    total: float = 0.0

    @property
    def mean(self) -> float | None:
        """Total over weight, in the quantity's own unit."""
        return self.total / self.weight if self.weight > 1e-9 else None


NO_SUM = Sum()


@dataclass(frozen=True, slots=True, weakref_slot=True)
class Tally:
    """Immutable counts over closed cases with a cause; a verified cure counts 1, an unverified one 0.5.

    `causes`: system ("" not known) -> cause -> weight. `outcomes`: test -> (cause, outcome) -> weight,
    a test repeated in a case counted once, the later. `corrections`: cause -> words -> weight.
    `labour`: cause -> repair minutes. `minutes`: test -> minutes it took. `prices`: component -> part price
    in the shop's currency. Cases without a cause count nothing; no cases give empty counts.
    """

    causes: Mapping[str, Counts] = field(default_factory=dict)
    outcomes: Mapping[str, Mapping[tuple[str, str], float]] = field(default_factory=dict)
    corrections: Mapping[str, Counts] = field(default_factory=dict)
    labour: Mapping[str, Sum] = field(default_factory=dict)
    minutes: Mapping[str, Sum] = field(default_factory=dict)
    prices: Mapping[str, Sum] = field(default_factory=dict)

    @staticmethod
    def of(cases: Iterable[Case]) -> Tally:
        """The counts of these cases."""
        return Tally().changed(added=cases)

    def changed(self, *, removed: Iterable[Case] = (), added: Iterable[Case] = ()) -> Tally:
        """The counts after cases went and came; `removed` must be as they were when counted."""
        draft = _Draft(self)
        for case in removed:
            draft.count(case, sign=-1.0)
        for case in added:
            draft.count(case, sign=1.0)
        return draft.finished()

    def outcomes_of(self, test: str) -> Mapping[tuple[str, str], float]:
        """(cause, outcome) -> weight of a test in the cases that did it; empty when none."""
        return self.outcomes.get(test, {})


def weight_of(case: Case) -> float:
    """How much a closed case counts: 1 verified and not come back, else 0.5; 0 without cause."""
    if case.state != "closed" or case.cause is None:
        return 0.0
    return cure_weight(case)


def cure_weight(case: Case) -> float:
    """How much the cure of a closed case counts: 1 verified and not come back, else 0.5."""
    return VERIFIED if case.verified and not case.returned_as else UNVERIFIED


def later_tests(tests: Iterable[TestDone]) -> tuple[TestDone, ...]:
    """Each test once, as last done; in the order of the last doings."""
    latest: dict[str, TestDone] = {}
    for done in tests:
        latest.pop(done.test, None)
        latest[done.test] = done
    return tuple(latest.values())


class _Draft:
    """Copies on first touch, so that counts handed out before never change."""

    def __init__(self, old: Tally) -> None:
        self._counts = {name: dict(getattr(old, name)) for name in ("causes", "outcomes", "corrections")}
        self._sums = {name: dict(getattr(old, name)) for name in ("labour", "minutes", "prices")}
        self._touched: set[tuple[str, str]] = set()

    def count(self, case: Case, *, sign: float) -> None:
        weight = sign * weight_of(case)
        if not weight or case.cause is None:
            return
        self._add("causes", _system(case), what=case.cause, weight=weight)
        if case.correction and case.correction.text:
            self._add("corrections", case.cause, what=case.correction.text, weight=weight)
        if case.labour.repair_min > 0:
            self._sum("labour", case.cause, value=case.labour.repair_min, weight=weight)
        self._count_tests(case, weight)
        for part in case.complaint.parts:
            if part.price is not None:
                self._sum("prices", part.component, value=part.price, weight=weight)

    def _count_tests(self, case: Case, weight: float) -> None:
        for done in later_tests(case.complaint.tests):
            if done.fault_present:
                self._add("outcomes", done.test, what=(case.cause, done.outcome), weight=weight)
            if done.minutes is not None:
                self._sum("minutes", done.test, value=done.minutes, weight=weight)

    def _add(self, name: str, key: str, *, what: object, weight: float) -> None:
        table = self._counts[name]
        if (name, key) not in self._touched:
            table[key] = dict(table.get(key, _NOTHING))
            self._touched.add((name, key))
        left = table[key].get(what, 0.0) + weight
        table[key][what] = left
        if left < 1e-9:
            del table[key][what]

    def _sum(self, name: str, key: str, *, value: float, weight: float) -> None:
        old = self._sums[name].get(key, NO_SUM)
        self._sums[name][key] = Sum(old.weight + weight, old.total + weight * value)
        if self._sums[name][key].weight < 1e-9:
            del self._sums[name][key]

    def finished(self) -> Tally:
        kept = {name: {k: v for k, v in table.items() if v} for name, table in self._counts.items()}
        return Tally(**kept, **self._sums)


def _system(case: Case) -> str:
    """The system of the cause: as written, or the first word of a listed id."""
    if case.cause_system:
        return case.cause_system
    first = (case.cause or "").split(".", maxsplit=1)[0]
    return "" if first == "own" else first
