"""Ways of working: by the advice, by replacing the likeliest first, by a fixed list, by bits per minute."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Protocol

import numpy as np

from baylore_kb.advice import SHIPPED_TUNING, Tuning, advise, reckon
from baylore_kb.causes import Posterior, beliefs_of
from baylore_kb.causes.prior import trade_prior
from baylore_kb.index import Snapshot
from baylore_kb.metrics import entropy
from baylore_kb.plan.offered import offered
from baylore_kb.question import Question, understand
from baylore_kb.trade.model import Test
from baylore_kb.values import Advice, Complaint, Step, Terms

# A shop that replaces by habit gives up after so many parts; common practice, no published source.
GUESSES, TWICE = 3, 2
LISTED_SURE, GAIN_SURE = 0.8, 0.9
MOST_LISTED = 12


class Player(Protocol):
    """Somebody who decides what to do next; one for each job."""

    def next(self, asked: Complaint, tried: Collection[str]) -> Step:
        """The next step, with everything done so far and the causes already repaired in vain."""
        ...


@dataclass(frozen=True, slots=True)
class Mind:
    """What a shop knows: its memory, its terms and its tuning."""

    snapshot: Snapshot
    terms: Terms = Terms()
    tuning: Tuning = SHIPPED_TUNING

    def advice(self, asked: Complaint) -> Advice:
        """The whole answer."""
        return advise(asked, self.snapshot, terms=self.terms, tuning=self.tuning, limit=5)

    def think(self, asked: Complaint) -> tuple[Question, Posterior]:
        """The chances of the causes, by the same memory that the advice has."""
        reckoned = reckon(asked, self.snapshot, tuning=self.tuning)
        return reckoned.question, reckoned.chances


@dataclass(slots=True)
class ByAdvice:
    """Does as the advice says; `answers` are kept for judging how sure it was."""

    mind: Mind
    answers: list[Advice] = field(default_factory=list)

    def next(self, asked: Complaint, tried: Collection[str]) -> Step:
        """The advised step; a repair done in vain twice is not done again."""
        advice = self.mind.advice(asked)
        self.answers.append(advice)
        in_vain = advice.next.do == "replace" and list(tried).count(advice.next.cause or "") >= TWICE
        return Step("refer", "It was done twice in vain.") if in_vain else advice.next


@dataclass(slots=True)
class UsualFirst:
    """Replaces what this complaint usually was, by the lists and the shop's counts, so often at most."""

    mind: Mind
    guesses: int = GUESSES

    def next(self, asked: Complaint, tried: Collection[str]) -> Step:
        """The most usual cause of the complaint not yet repaired."""
        if len(tried) >= self.guesses:
            return Step("refer", "That was enough.")
        question = understand(asked, self.mind.snapshot)
        beliefs = beliefs_of(self.mind.snapshot.trade)
        heard = [(each.symptom, each.chance) for each in question.heard[:1]]
        shares = trade_prior(beliefs, heard, absent=question.absent, tally=self.mind.snapshot.tally).shares[0]
        order = (beliefs.causes[k] for k in np.argsort(-shares, kind="stable"))
        return Step("replace", "It usually is.", cause=next(cause for cause in order if cause not in tried))


@dataclass(slots=True)
class LikeliestFirst:
    """Replaces what is the likeliest by the words and the memory, untested; gives up after three."""

    mind: Mind

    def next(self, asked: Complaint, tried: Collection[str]) -> Step:
        """The likeliest cause not yet repaired."""
        if len(tried) >= GUESSES:
            return Step("refer", "Three parts were enough.")
        _, chances = self.mind.think(asked)
        left = next(row.cause for row in chances.causes if row.cause not in tried)
        return Step("replace", "It is the usual one.", cause=left)


@dataclass(slots=True)
class ByList:
    """Does the tests of the complaint in one fixed order, quick ones first, until one cause is clear."""

    mind: Mind
    _list: list[str] | None = None

    def next(self, asked: Complaint, tried: Collection[str]) -> Step:
        """The next test on the list; repairs by falling chance once a cause is clear or the list is done."""
        question, chances = self.mind.think(asked)
        if self._list is None:
            tests = offered(question, chances, self.mind.snapshot.trade)
            quick = sorted(tests, key=lambda test: test.setup_min + test.do_min)
            self._list = [test.id for test in quick[:MOST_LISTED]]
        done = {test.test for test in asked.tests}
        left = [test for test in self._list if test not in done]
        if tried or not left or chances.causes[0].probability >= LISTED_SURE:
            return _likeliest(chances, tried)
        return Step("test", "It is next on the list.", test=left[0])


@dataclass(slots=True)
class ByGain:
    """Does the test with the most bits a minute until one cause is nearly sure."""

    mind: Mind

    def next(self, asked: Complaint, tried: Collection[str]) -> Step:
        """The test that tells most for its minutes; repairs by falling chance once one is nearly sure."""
        question, chances = self.mind.think(asked)
        tests = offered(question, chances, self.mind.snapshot.trade)
        gains = [_bits(test, chances) / (test.setup_min + test.do_min) for test in tests]
        if tried or not tests or max(gains) < 1e-4 or chances.causes[0].probability >= GAIN_SURE:
            return _likeliest(chances, tried)
        return Step("test", "It tells most.", test=tests[int(np.argmax(gains))].id)


def _likeliest(chances: Posterior, tried: Collection[str]) -> Step:
    if len(tried) >= GUESSES:
        return Step("refer", "Three repairs were enough.")
    left = next(row.cause for row in chances.causes if row.cause not in tried)
    return Step("replace", "It is the likeliest.", cause=left)


def _bits(test: Test, chances: Posterior) -> float:
    """Bits a test is expected to tell about the causes."""
    p = chances.by_column()
    joint = chances.columns.outcomes(test.id, chances.tally) * p
    return float(entropy(p) + entropy(joint.sum(axis=1)) - entropy(joint.ravel()))
