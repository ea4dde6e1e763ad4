"""What tests, parts tried and readings say about the causes, as log-chances with a name each."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.causes.beliefs import Beliefs, Bools, Floats
from baylore_kb.causes.pool import outcome_chances, tempered
from baylore_kb.tally import Tally, later_tests
from baylore_kb.values import PartTried, TestDone

ALPHA_OUTCOMES = 4.0
PRESENT_WHEN_AWAY = 0.05
PRESENT_WHEN_COMES_AND_GOES = 0.25
NOT_MENDED_BY_A_PART = frozenset(
    ("connector", "not_learned", "misadjusted", "software", "loose")
    + ("air_in", "water_entry", "awake", "low_level", "overfilled")
)
# Chance that a fitted part really works, by source: common practice, no published source.
PART_WORKS = {"maker": 0.97, "own stock": 0.9, "aftermarket": 0.85, "rebuilt": 0.85, "used": 0.8}
PARTLY, FAILED_LATER, CURED_ELSEWHERE = 0.5, 0.8, 0.05


@dataclass(frozen=True, slots=True)
class Columns:
    """The causes in question: all listed ones, the shop's own, and last the one not known here."""

    beliefs: Beliefs
    ids: tuple[str, ...]
    at: Mapping[str, int]

    @staticmethod
    def of(beliefs: Beliefs, own: tuple[str, ...]) -> Columns:
        """The columns with these causes of the shop's own; `ids` leaves out the last (unlisted) column."""
        ids = (*beliefs.causes, *own)
        return Columns(beliefs, ids, {cause: column for column, cause in enumerate(ids)})

    def spread(self, row: Floats) -> Floats:
        """(..., C + 1) with anything else last, widened to the columns of this question."""
        others = np.repeat(row[..., -1:], len(self.ids) + 1 - len(self.beliefs.causes), axis=-1)
        return np.concatenate([row[..., :-1], others], axis=-1)

    def outcomes(self, test: str, tally: Tally) -> Floats:
        """(O, N) P(outcome | cause) of a listed test, the shop's counts pooled with the trade's chances."""
        listed = [known.id for known in self.beliefs.trade.tests[test].outcomes]
        rate = self.spread(self.beliefs.lik[self.beliefs.test_at[test], : len(listed)])
        counts = np.zeros_like(rate)
        for (cause, outcome), weight in tally.outcomes_of(test).items():
            column = self.at.get(cause)
            if column is not None and outcome in listed:
                counts[listed.index(outcome), column] = weight
        return outcome_chances(counts.T, rate.T, alpha=ALPHA_OUTCOMES).T

    def of_component(self, component: str) -> Bools:
        """(N) True for causes that a new part of this component cures."""
        found = np.zeros(len(self.ids) + 1, dtype=bool)
        for column, cause in enumerate(self.beliefs.trade.causes.values()):
            found[column] = cause.component == component and cause.mode not in NOT_MENDED_BY_A_PART
        return found


@dataclass(frozen=True, slots=True)
class Evidence:
    """One result: `log` (N) is log P(result | cause), tempering included; `label` says it in words."""

    label: str
    log: Floats


def presence(done: TestDone, comes_and_goes: bool) -> float:
    """Chance that the fault was there while testing."""
    if not done.fault_present:
        return PRESENT_WHEN_AWAY
    return PRESENT_WHEN_COMES_AND_GOES if comes_and_goes else 1.0


def of_tests(
    tests: Iterable[TestDone], columns: Columns, *, tally: Tally, comes_and_goes: bool = False
) -> list[Evidence]:
    """What each listed test says, the later of repeats only; a test or outcome not listed says nothing."""
    done = [test for test in later_tests(tests) if columns.beliefs.knows(test.test, test.outcome)]
    groups = _circuits([test.test for test in done], columns.beliefs)
    return [
        Evidence(_label(test, columns), share * np.log(_row(test, columns, tally, comes_and_goes)))
        for test, share in zip(done, tempered(groups), strict=True)
    ]


def _row(done: TestDone, columns: Columns, tally: Tally, comes_and_goes: bool) -> Floats:
    outcomes = [known.id for known in columns.beliefs.trade.tests[done.test].outcomes]
    row = columns.outcomes(done.test, tally)[outcomes.index(done.outcome)]
    share = presence(done, comes_and_goes)
    return np.asarray(share * row + (1.0 - share) * row[-1])


def _circuits(tests: list[str], beliefs: Beliefs) -> list[int]:
    """The group of each test: the first earlier test of the same circuit leads it."""
    groups: list[int] = []
    for place, test in enumerate(tests):
        same = (groups[k] for k in range(place) if beliefs.same_circuit(tests[k], test))
        groups.append(next(same, place))
    return groups


def _label(done: TestDone, columns: Columns) -> str:
    test = columns.beliefs.trade.tests[done.test]
    means = next(known.means for known in test.outcomes if known.id == done.outcome)
    return f"{test.title}: {means}"


def of_parts(parts: Iterable[PartTried], columns: Columns) -> list[Evidence]:
    """What parts fitted on the way say: one that changed nothing was hardly the cause."""
    found = []
    for part in parts:
        hit = columns.of_component(part.component)
        factors = _part_factors(part)
        if factors is not None and hit.any():
            cured, other = factors
            component = columns.beliefs.trade.components[part.component]
            found.append(
                Evidence(f"new {component.title}: {part.result}", np.log(np.where(hit, cured, other)))
            )
    return found


def _part_factors(part: PartTried) -> tuple[float, float] | None:
    """P(result | the part's own causes) and P(result | others), up to a common factor; None says nothing."""
    results: Mapping[str | None, tuple[float, float]] = {
        "no change": (1.0 - PART_WORKS[part.source], 1.0),
        "partly": (PARTLY, 1.0),
        "failed later": (FAILED_LATER, 1.0),
        "cured": (1.0, CURED_ELSEWHERE),
    }
    return results.get(part.result)
