"""The causes in question as columns: all listed ones, the shop's own, and last the one not known here."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from baylore_kb.causes.beliefs import Beliefs, Bools, Floats
from baylore_kb.causes.pool import outcome_chances
from baylore_kb.tally import Tally
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own.ids import words_of

ALPHA_OUTCOMES = 4.0
Ints = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class Columns:
    """The causes in question; `ids` leaves out the last column, the cause not known here."""

    beliefs: Beliefs
    ids: tuple[str, ...]
    at: Mapping[str, int]

    @staticmethod
    def of(beliefs: Beliefs, own: tuple[str, ...]) -> Columns:
        """The columns with these causes of the shop's own."""
        listed = len(beliefs.causes)
        at = {**beliefs.cause_at, **{cause: listed + place for place, cause in enumerate(own)}}
        return Columns(beliefs, (*beliefs.causes, *own), at)

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
        place = self.beliefs.test_at[test]
        found = self.spread(self.beliefs.lik[place, : len(self.beliefs.trade.tests[test].outcomes)])
        told = told_apart(self.beliefs, test, tally)
        found[:, told.columns] = told.listed[: len(found)]
        for cause in told.own.keys() & self.ids[len(self.beliefs.causes) :]:
            found[:, self.at[cause]] = told.own[cause][: len(found)]
        return found

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


@dataclass(frozen=True, slots=True)
class ToldApart:
    """Chances of a test's outcomes for the causes that it tells apart from others or a shop has counts of:
    `listed` (O, K) for the listed causes at `columns` (K), and by cause (O) for the shop's own."""

    columns: Ints
    listed: Floats
    own: Mapping[str, Floats]


Counts = Mapping[tuple[str, str], float]
_NOTHING: Counts = MappingProxyType({})
# As many tests as several shops have counts of; a changed case leaves the counts of other tests as they are.
_MOST_KEPT = 3_000
_KEPT: dict[tuple[int, str, int], tuple[Beliefs, Counts, ToldApart]] = {}


def told_apart(beliefs: Beliefs, test: str, tally: Tally) -> ToldApart:
    """What a listed test tells apart, the shop's counts pooled with the trade's chances."""
    counts = tally.outcomes.get(test, _NOTHING)
    key = (id(beliefs), test, id(counts))
    kept = _KEPT.get(key)
    # an id may be given anew once its owner is gone
    if kept is None or kept[0] is not beliefs or kept[1] is not counts:
        if len(_KEPT) >= _MOST_KEPT:
            _KEPT.clear()
        kept = _KEPT[key] = (beliefs, counts, _reckoned(beliefs, test, counts))
    return kept[2]


def _reckoned(beliefs: Beliefs, test: str, counts: Counts) -> ToldApart:
    names = [known.id for known in beliefs.trade.tests[test].outcomes]
    place = beliefs.test_at[test]
    lik = beliefs.lik[place]
    named = (beliefs.causes[column] for column in np.flatnonzero(beliefs.named[place]))
    told = dict.fromkeys([*named, *(cause for cause, _ in counts)])
    causes = {cause: place for place, cause in enumerate(told)}
    seen = np.zeros((len(causes), len(lik)))
    for (cause, outcome), weight in counts.items():
        if outcome in names:
            seen[causes[cause], names.index(outcome)] = weight
    columns = np.array([beliefs.cause_at.get(cause, -1) for cause in causes], dtype=np.intp)
    chances = outcome_chances(seen, lik[:, columns].T, alpha=ALPHA_OUTCOMES)
    own = {cause: chances[place] for cause, place in causes.items() if columns[place] < 0}
    return ToldApart(columns[columns >= 0], chances[columns >= 0].T, own)


def title_of(cause: str, trade: Trade) -> str:
    """The listed title of a cause, else the words of its id ("own.wet_joint": "wet joint")."""
    known = trade.causes.get(cause)
    return known.title if known else words_of(cause)
