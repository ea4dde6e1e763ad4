"""The causes in question as columns: all listed ones, the shop's own, and last the one not known here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from baylore_kb.causes.beliefs import Beliefs, Bools, Floats
from baylore_kb.causes.pool import outcome_chances
from baylore_kb.once_each import once_each
from baylore_kb.tally import Tally
from baylore_kb.trade.model import Test, Trade

ALPHA_OUTCOMES = 4.0


@dataclass(frozen=True, slots=True)
class Columns:
    """The causes in question; `ids` leaves out the last column, the cause not known here."""

    beliefs: Beliefs
    ids: tuple[str, ...]
    at: Mapping[str, int]

    @staticmethod
    def of(beliefs: Beliefs, own: tuple[str, ...]) -> Columns:
        """The columns with these causes of the shop's own."""
        ids = (*beliefs.causes, *own)
        return Columns(beliefs, ids, {cause: column for column, cause in enumerate(ids)})

    @property
    def count(self) -> int:
        """How many columns there are, the cause not known here included."""
        return len(self.ids) + 1

    def spread(self, row: Floats) -> Floats:
        """(..., C + 1) with anything else last, widened to the columns of this question."""
        others = np.repeat(row[..., -1:], self.count - len(self.beliefs.causes), axis=-1)
        return np.concatenate([row[..., :-1], others], axis=-1)

    def outcomes(self, test: str, tally: Tally) -> Floats:
        """(O, N) P(outcome | cause) of a listed test, the shop's counts pooled with the trade's chances."""
        own = self.ids[len(self.beliefs.causes) :]
        kept = _tables(tally)
        found = kept.get((id(self.beliefs), test, own))
        if found is None or found[0] is not self.beliefs:
            if len(kept) >= _MOST_KEPT:
                kept.clear()
            table = _with_own(
                _pooled(self.beliefs, tally, test), own, test=test, tally=tally, beliefs=self.beliefs
            )
            found = kept[id(self.beliefs), test, own] = (self.beliefs, table)
        return found[1]

    def outcome(self, test: str, outcome: str, tally: Tally) -> Floats:
        """(N) P(this outcome | cause) of a listed test, as `outcomes` has it."""
        listed = [known.id for known in self.beliefs.trade.tests[test].outcomes]
        return np.asarray(self.outcomes(test, tally)[listed.index(outcome)])

    def of_component(self, component: str, *, by_part: bool = True) -> Bools:
        """(N) True for causes of this component; `by_part` only for those that a new part of it cures."""
        found = np.zeros(self.count, dtype=bool)
        listed = self.beliefs.of_component.get(component)
        if listed is not None:
            found[: len(listed)] = listed & self.beliefs.by_part if by_part else listed
        return found

    def only(self, cause: str) -> Bools:
        """(N) True for this cause alone; nowhere for one that is not in question."""
        found = np.zeros(self.count, dtype=bool)
        if cause in self.at:
            found[self.at[cause]] = True
        return found

    def title(self, cause: str) -> str:
        """The listed title of a cause, else the words of its id."""
        return title_of(cause, self.beliefs.trade)


# As many tables as the questions of a day need: a test with the own causes that came up together.
_MOST_KEPT = 20_000


@once_each
def _tables(tally: Tally) -> dict[tuple[int, str, tuple[str, ...]], tuple[Beliefs, Floats]]:
    """The tables already reckoned from these counts."""
    return {}


def _pooled(beliefs: Beliefs, tally: Tally, test: str) -> Floats:
    """(O, C + 1) what `outcomes` gives for the listed causes and anything else."""
    rate = beliefs.lik[beliefs.test_at[test], : len(beliefs.trade.tests[test].outcomes)]
    return _with_counts(rate, beliefs.cause_at, tally, test=beliefs.trade.tests[test])


def _with_own(listed: Floats, own: tuple[str, ...], *, test: str, tally: Tally, beliefs: Beliefs) -> Floats:
    """The table with a column for each cause of the shop's own before the last."""
    rate = np.repeat(beliefs.lik[beliefs.test_at[test], : len(listed), -1:], len(own), axis=1)
    at = {cause: column for column, cause in enumerate(own)}
    between = _with_counts(rate, at, tally, test=beliefs.trade.tests[test])
    return np.concatenate([listed[:, :-1], between, listed[:, -1:]], axis=1)


def _with_counts(rate: Floats, at: Mapping[str, int], tally: Tally, *, test: Test) -> Floats:
    """(O, N) chances of a test's outcomes for the causes `at` these columns."""
    names = [known.id for known in test.outcomes]
    counts = np.zeros_like(rate)
    for (cause, outcome), weight in tally.outcomes_of(test.id).items():
        column = at.get(cause)
        if column is not None and outcome in names:
            counts[names.index(outcome), column] = weight
    return outcome_chances(counts.T, rate.T, alpha=ALPHA_OUTCOMES).T


def title_of(cause: str, trade: Trade) -> str:
    """The listed title of a cause, else the words of its id ("own.wet_joint": "wet joint")."""
    known = trade.causes.get(cause)
    return known.title if known else cause.removeprefix("own.").replace("_", " ")
