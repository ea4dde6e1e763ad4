"""One car in an invented town: what a test shows on it, what a repair does, and what each costs."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baylore_kb.causes import beliefs_of
from baylore_kb.causes.evidence import NOT_SEEN, REPRODUCES
from baylore_kb.plan.layout import DEARER, away_minutes
from baylore_kb.plan.mends import UNKNOWN_REPAIR_MIN, one_repair_cures
from baylore_kb.plan.places import setup_minutes
from baylore_kb.simulate.nature import Nature
from baylore_kb.trade.model import Test
from baylore_kb.values import PartResult, SourceKind, TestDone

# A part of each source against the maker's: its price and its chance to work; common practice, no source.
PRICE = {"maker": 1.0, "own stock": 0.8, "aftermarket": 0.4, "rebuilt": 0.55, "used": 0.3}
WORKS = {"maker": 0.97, "own stock": 0.92, "aftermarket": 0.8, "rebuilt": 0.85, "used": 0.75}
HALF_WORKS = 0.5
REPAIR_HOLDS = 0.95
# Where a test seems to show a part that is good: how often the member believes it.
WRONG_PICK = 0.25


@dataclass(frozen=True, slots=True)
class Repaired:
    """What a repair took and did; `part` when one was bought."""

    minutes: float
    money: float
    result: PartResult
    part: bool


@dataclass(frozen=True, slots=True)
class World:
    """A car with this true cause; a fault that `comes_and_goes` is `there` today or away all day.

    `strength` in (0, 1]: a mild fault shows weakly in every test of it, so that tests of one car are not
    independent.
    """

    nature: Nature
    cause: str
    comes_and_goes: bool = False
    there: bool = True
    strength: float = 1.0

    def minutes(self, after: Test | None, test: Test) -> float:
        """True minutes of a test, with what set-up is left to do after the last one."""
        return (setup_minutes(after, test) + test.do_min) * self.nature.minutes[test.id]

    def test(self, test: str, chance: np.random.Generator) -> TestDone:
        """The outcome of a test; where it shows the very part, mostly the right one is picked."""
        listed, place = self.nature.trade.tests[test].outcomes, self.nature.at[self.cause]
        if test == REPRODUCES and self.comes_and_goes:
            return TestDone(test, "seen" if self.there else NOT_SEEN)
        share = self.strength if self.there else 0.0
        row = share * self.nature.rows[test][:, place] + (1.0 - share) * self.nature.good[test]
        shown = listed[int(chance.choice(len(listed), p=row))]
        return TestDone(test, shown.id, part=self._picked(test, chance) if shown.names_part else None)

    def _picked(self, test: str, chance: np.random.Generator) -> str | None:
        beliefs = beliefs_of(self.nature.trade)
        named = np.flatnonzero(beliefs.named[beliefs.test_at[test]])
        at = beliefs.cause_at.get(self.cause)
        if at in named:
            return self.cause
        return beliefs.causes[int(chance.choice(named))] if chance.random() < WRONG_PICK else None

    def cures(self, cause: str) -> bool:
        """Whether the right repair of a cause cures this car: its own, or a new part of its component."""
        return one_repair_cures(cause, self.cause, self.nature.trade)

    def repair(self, cause: str, source: SourceKind, chance: np.random.Generator) -> Repaired:
        """What the repair of a cause with a part of this source takes and does on this car."""
        place = self.nature.at.get(cause)
        labour = UNKNOWN_REPAIR_MIN if place is None else float(self.nature.labour[place])
        price = 0.0 if place is None else float(self.nature.prices[place])
        part = price > 0.0
        holds = chance.random() < (WORKS[source] if part else REPAIR_HOLDS)
        result: PartResult = "cured" if self.cures(cause) and holds else "no change"
        if self.cures(cause) and not holds and chance.random() < HALF_WORKS:
            result = "partly"
        return Repaired(labour, price * PRICE[source], result, part)

    def away(self) -> tuple[float, float]:
        """Minutes and money of giving the job away: handing over, then all of it dearer elsewhere."""
        place = self.nature.at[self.cause]
        return away_minutes(float(self.nature.labour[place])), DEARER * float(self.nature.prices[place])

    def right(self, rate_per_hour: float) -> float:
        """Minutes of the right repair alone, its part as minutes of the shop's rate."""
        place = self.nature.at[self.cause]
        return float(self.nature.labour[place] + self.nature.prices[place] * 60.0 / rate_per_hour)
