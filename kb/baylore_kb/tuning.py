"""What a shop's own closed cases teach the engine: match weights, and how sure to sound."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from baylore_kb.advice import SHIPPED_TUNING, Tuning
from baylore_kb.causes import posterior
from baylore_kb.causes.pool import Floats, bayes, listed_at_temperature
from baylore_kb.errors import BadTuning
from baylore_kb.features import NAMES
from baylore_kb.fit import FEWEST_CASES, fitted
from baylore_kb.heldout import Asked, asked_of_others, held_out
from baylore_kb.index import Snapshot
from baylore_kb.match import as_matches
from baylore_kb.weights import SHIPPED, MatchWeights

MOST_ASKED = 300
EXPONENTS = np.geomspace(0.5, 2.0, 13)
# Cases that pull temperature and trust away from 1 by themselves.
PRIOR_CASES = 50.0


@dataclass(frozen=True, slots=True)
class Trial:
    """A tuning and how it did on cases it had not seen, beside the shipped one.

    `cases` closed cases were asked; the losses are mean -ln(chance given to the true cause), lower is better.
    `adopted` is False where the tuned one was not better or there were fewer than 50 cases; `tuning` is then
    the shipped one.
    """

    tuning: Tuning
    cases: int
    shipped_loss: float | None
    tuned_loss: float | None
    adopted: bool


def tune(snapshot: Snapshot, *, most_asked: int = MOST_ASKED) -> Tuning:
    """Weights and temperature for this shop, the shipped ones where they do as well on held-out cases."""
    return trial(snapshot, most_asked=most_asked).tuning


def trial(snapshot: Snapshot, *, most_asked: int = MOST_ASKED) -> Trial:
    """Tune on one half of the closed cases and try on the other, both ways; then tune on all of them.

    At most `most_asked` cases, spread evenly, are each asked of all others without the same car's visits.
    """
    closed = held_out(snapshot, most_asked)
    if len(closed) < FEWEST_CASES:
        return Trial(SHIPPED_TUNING, len(closed), None, None, adopted=False)
    asked = list(asked_of_others(snapshot, closed))
    halves = [[each for n, each in enumerate(asked) if (n // 2) % 2 == half] for half in (0, 1)]
    shipped = [_loss(each, snapshot, SHIPPED_TUNING) for half in halves for each in half]
    tuned = [
        _loss(each, snapshot, tuning)
        for half, other in (halves, halves[::-1])
        for tuning in (_tuned(other, snapshot),)
        for each in half
    ]
    better = float(np.mean(tuned)) < float(np.mean(shipped))
    found = _tuned(asked, snapshot) if better else SHIPPED_TUNING
    return Trial(found, len(asked), float(np.mean(shipped)), float(np.mean(tuned)), adopted=better)


def _tuned(asked: Sequence[Asked], snapshot: Snapshot) -> Tuning:
    """Weights by pairs, then temperature and trust of least log loss, drawn towards 1.

    Source of the temperature: Guo et al. 2017; the trust is the same idea for the results alone.
    """
    weights = fitted(list(asked))
    rows = [_reckoned(each, snapshot, weights) for each in asked]
    every = [(t, u) for t in EXPONENTS for u in EXPONENTS]
    losses = [sum(row.loss(float(t), float(u)) for row in rows) for t, u in every]
    share = len(asked) / (len(asked) + PRIOR_CASES)
    temperature, trust = (float(x) ** share for x in every[int(np.argmin(losses))])
    return Tuning(weights, temperature, trust)


def _loss(asked: Asked, snapshot: Snapshot, tuning: Tuning) -> float:
    return _reckoned(asked, snapshot, tuning.weights).loss(tuning.temperature, tuning.trust)


@dataclass(frozen=True, slots=True)
class _Reckoned:
    """Chances (N) before tests, log-chances (N) of tests and of the part shown, the column of the truth."""

    known: Floats
    said: Floats
    shown: Floats
    truth: int

    def loss(self, temperature: float, trust: float) -> float:
        """-ln(chance of the truth) at this temperature and trust."""
        prior = listed_at_temperature(self.known, temperature)
        chances = bayes(prior, np.exp(trust * self.said + self.shown))
        return float(-np.log(max(chances[self.truth], 1e-9)))


def _reckoned(asked: Asked, snapshot: Snapshot, weights: MatchWeights) -> _Reckoned:
    answer = posterior(asked.question, as_matches(asked.compared, weights), snapshot, tally=asked.tally)
    known, said = answer.weighing.known(answer.weighing.everything())
    shown = answer.weighing.shown
    truth = answer.columns.at.get(asked.case.cause or "", len(known[0]) - 1)
    return _Reckoned(known[0], said[0], np.zeros(len(known[0])) if shown is None else shown.log, truth)


def as_document(tuning: Tuning) -> dict[str, Any]:
    """The tuning as plain values for keeping; `from_document` reads it back."""
    weights = tuning.weights
    return {
        "temperature": tuning.temperature,
        "trust": tuning.trust,
        "bias": weights.bias,
        "weights": dict(zip(NAMES, weights.weights, strict=True)),
        "version": weights.version,
        "drawn_to": SHIPPED.version,
        "cases": weights.cases,
    }


def from_document(document: Mapping[str, Any]) -> Tuning:
    """The kept tuning.

    Raises BadTuning where it was made for other features or beside other shipped weights, when a feature may
    have meant something else, or holds no numbers.
    """
    try:
        named = document["weights"]
        if set(named) != set(NAMES):
            raise BadTuning(sorted(set(named) ^ set(NAMES)))
        if document["drawn_to"] != SHIPPED.version:
            raise BadTuning([f"drawn to {document['drawn_to']}"])
        weights = MatchWeights(
            float(document["bias"]),
            tuple(float(named[name]) for name in NAMES),
            str(document["version"]),
            int(document["cases"]),
        )
        return Tuning(weights, float(document["temperature"]), float(document["trust"]))
    except (KeyError, TypeError, ValueError) as error:
        raise BadTuning([str(error)]) from error
