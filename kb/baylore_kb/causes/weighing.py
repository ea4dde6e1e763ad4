"""Weigh everything said together, and again with one piece left out at a time, as rows of one array."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

import numpy as np

from baylore_kb.causes.beliefs import Bools, Floats
from baylore_kb.causes.evidence import Evidence
from baylore_kb.causes.pool import bayes, listed_at_temperature, tempered
from baylore_kb.causes.tried import Tried

LEAST_UNLISTED, LEAST_UNLISTED_SETTLED = 0.05, 0.02
LEAST_LISTED = 1e-9
STILL_SHOWN = 0.5


class Shown(NamedTuple):
    """The part a test showed by itself: its column, the test, both in words, and `log` (N): the log-chance
    that the test shows this part under each cause."""

    column: int
    test: str
    label: str
    log: Floats


class Kept(NamedTuple):
    """Which pieces count in each of R rows (1 or 0): `prior` is the row of the prior, `results` (R, T),
    `settled` (R) the part shown, `tried` (R, I)."""

    prior: Floats
    results: Floats
    settled: Floats
    tried: Floats


class Split(NamedTuple):
    """Joint chances, up to one factor for all, of what a thing tried shows: its cause is `still` there, the
    fault lies `elsewhere` (the thing was not the cause), or there were `two` faults and one is mended."""

    still: float
    elsewhere: float
    two: float


@dataclass(frozen=True, slots=True)
class Weighing:
    """All that was said, ready to weigh.

    `prior` (P, N): row 0 with all that was known before any test, the others with one piece left out.
    `logs` (T, N): log-chances of the results, untempered. `together` (T, T) tells which results look at one
    circuit. `temperature` > 0 of what was known before any test and
    `trust` > 0, the exponent of what tests say, are the shop's own.
    """

    prior: Floats
    results: tuple[Evidence, ...]
    logs: Floats
    together: Bools
    shown: Shown | None
    tried: tuple[Tried, ...]
    temperature: float = 1.0
    trust: float = 1.0

    def everything(self) -> Kept:
        """One row in which every piece counts."""
        one = np.ones(1)
        return Kept(self.prior[:1], np.ones((1, len(self.results))), one, np.ones((1, len(self.tried))))

    def all_but_one(self) -> Kept:
        """Row 0 with everything; then one row for each piece left out: prior pieces, results, the part
        shown (if any), things tried."""
        hints, results, tried = len(self.prior) - 1, len(self.results), len(self.tried)
        shown = int(self.shown is not None)
        pieces = results + shown + tried
        kept = np.concatenate([np.ones((1 + hints, pieces)), 1.0 - np.eye(pieces)])
        rows = np.concatenate([self.prior, np.repeat(self.prior[:1], pieces, axis=0)])
        counts = kept[:, results] if shown else np.zeros(len(kept))
        return Kept(rows, kept[:, :results], counts, kept[:, results + shown :])

    def chances(self, kept: Kept) -> Floats:
        """(R, N) chances of all causes for each row of what counts; each row sums to 1, none is 0 or 1."""
        singly = self.before_tried(kept)
        joint = self._single(singly, kept.tried)
        for place, each in enumerate(self.tried):
            if each.second:
                joint = joint + self._two_faults(place, singly, kept)
        return self._floored(np.asarray(joint / joint.sum(axis=1, keepdims=True)), kept)

    def before_tried(self, kept: Kept) -> Floats:
        """(R, N) chances after all results, before what was tried."""
        chances, seen = self.known(kept)
        if self.results:
            chances = bayes(chances, np.exp(self.trust * seen))
        chances = self._with_part_shown(chances, kept)
        objections = self._objections
        if not objections.any():
            return chances
        return bayes(chances, np.exp(np.where(objections, kept.results, 0.0) @ self.logs))

    def known(self, kept: Kept) -> tuple[Floats, Floats]:
        """(R, N) chances before any test, at the shop's temperature, and log-chances of what tests say."""
        seen = np.where(self._objections, 0.0, tempered(kept.results, self.together)) @ self.logs
        prior = kept.prior
        if self.temperature != 1.0:
            prior = listed_at_temperature(prior, self.temperature)
        return prior, np.asarray(seen - seen.max(axis=1, keepdims=True))

    @property
    def _objections(self) -> Bools:
        return np.array([result.objected is not None for result in self.results], dtype=bool)

    def _with_part_shown(self, chances: Floats, kept: Kept) -> Floats:
        if self.shown is None:
            return chances
        return bayes(chances, np.exp(kept.settled[:, None] * self.shown.log))

    def likeliest(self, each: Tried) -> int:
        """The column of the likeliest cause that the thing tried mends, after all results."""
        return int(np.argmax(np.where(each.hit, self.before_tried(self.everything())[0], -1.0)))

    def split(self, place: int) -> Split:
        """What the thing tried at this place shows by itself, given all results and nothing else tried."""
        alone = self.everything()._replace(tried=np.eye(len(self.tried))[place : place + 1])
        singly, each = self.before_tried(alone), self.tried[place]
        joint = self._single(singly, alone.tried)[0]
        two = float(self._two_faults(place, singly, alone).sum()) if each.second else 0.0
        return Split(float(joint[each.hit].sum()), float(joint[~each.hit].sum()), two)

    def _single(self, singly: Floats, tried: Floats) -> Floats:
        """Joint chances if there is one fault."""
        if not self.tried:
            return singly
        return np.asarray(singly * np.exp(tried @ np.array([each.log for each in self.tried])))

    def _two_faults(self, place: int, singly: Floats, kept: Kept) -> Floats:
        """Joint chances (R, N) that what was tried here mended a fault and the column is a second one.

        The mended fault is taken out and the rest starts again from the prior, with what it explains
        counting less. Source: Heckerman, Breese & Rommelse 1995 for the restart.
        """
        each = self.tried[place]
        others = kept.tried.copy()
        others[:, place] = 0.0
        again = np.where(each.hit, 0.0, self._restarted(each, kept))
        again = again / np.maximum(again.sum(axis=1, keepdims=True), 1e-300)
        was_hit = singly[:, each.hit].sum(axis=1, keepdims=True)
        counts = kept.tried[:, place : place + 1]
        joint = self._single(np.asarray(again), others)
        return np.asarray(counts * each.second * was_hit * joint)

    def _restarted(self, each: Tried, kept: Kept) -> Floats:
        """(R, N) the prior with the results as far as the mended fault does not explain them itself."""
        if not self.results:
            return kept.prior
        logs = self.logs
        mended = self.likeliest(each)
        explained = logs[:, mended] > logs[:, -1]
        own = np.where(explained[:, None], np.maximum(logs, logs[:, mended : mended + 1]), logs)
        weighed = tempered(kept.results, self.together) @ own
        return np.asarray(kept.prior * np.exp(self.trust * (weighed - weighed.max(axis=1, keepdims=True))))

    def _floored(self, chances: Floats, kept: Kept) -> Floats:
        sure = np.zeros(len(chances), dtype=bool)
        if self.shown is not None:
            sure = (kept.settled > 0) & (chances[:, self.shown.column] >= STILL_SHOWN)
        least = np.where(sure, LEAST_UNLISTED_SETTLED, LEAST_UNLISTED)
        unlisted = np.maximum(chances[:, -1], least)
        listed = np.maximum(chances[:, :-1], LEAST_LISTED)
        listed = listed * ((1.0 - unlisted) / listed.sum(axis=1))[:, None]
        return np.concatenate([listed, unlisted[:, None]], axis=1)
