"""Everything one decision rests on, and the few numbers that several sentences need."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from baylore_kb.causes import Posterior
from baylore_kb.plan.bars import Bar
from baylore_kb.plan.choose import Worth
from baylore_kb.plan.layout import Layout
from baylore_kb.plan.mends import Mend
from baylore_kb.plan.shown import next_test
from baylore_kb.question import Question
from baylore_kb.trade.model import Trade
from baylore_kb.values import NextTest, Terms


@dataclass(frozen=True, slots=True)
class Weighed:
    """A question with its chances, the planning problem and what each first act costs.

    Tests are meant by their place in `layout.tests`; `bars` holds those that cannot be done now.
    """

    question: Question
    posterior: Posterior
    layout: Layout
    worth: Worth
    bars: Mapping[int, Bar]
    trade: Trade
    terms: Terms
    _rows: dict[int, NextTest] = field(default_factory=dict, repr=False)

    def row(self, place: int) -> NextTest:
        """The test as it is shown, written once."""
        if place not in self._rows:
            bar = self.bars.get(place)
            self._rows[place] = next_test(
                self.layout, place, saves=self.saves(place), bar=bar, trade=self.trade
            )
        return self._rows[place]

    def saves(self, place: int) -> float:
        """Minutes the test saves; below 0 where it costs more than it saves."""
        return float(self.worth.saves[place])

    @property
    def open(self) -> list[int]:
        """Tests the member may and can do now."""
        return [place for place in range(len(self.layout.tests)) if place not in self.bars]

    @property
    def spent(self) -> float:
        """Diagnosis minutes so far: as told, else those of the tests."""
        complaint = self.question.complaint
        if complaint.minutes_spent is not None:
            return complaint.minutes_spent
        return sum(done.minutes or 0.0 for done in complaint.tests)

    def chance(self, mend: Mend) -> float:
        """Chance in [0, 1] that the repair cures."""
        return sum(self.posterior.chance(cause) for cause in mend.cures)

    def title(self, mend: Mend) -> str:
        """The title of the repair's likeliest cause."""
        return next(row.title for row in self.layout.rows if row.cause == mend.cause)

    def money(self, minutes: float) -> float:
        """Minutes in the shop's currency."""
        return round(float(minutes) * self.terms.rate_per_hour / 60.0, 2)
