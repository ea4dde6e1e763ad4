"""Hear listed symptoms in a member's words, whatever the phrasing, dictation or spelling."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from copy import copy
from dataclasses import dataclass, replace

import numpy as np

from baylore_kb.added_plain import Floats, Ints
from baylore_kb.mentions import Mentioned, Mentions
from baylore_kb.sparse import Stacked
from baylore_kb.stems import stem
from baylore_kb.text import Analysis, Analyzer
from baylore_kb.tfidf import Terms, Tfidf
from baylore_kb.trade.model import Symptom, Trade
from baylore_kb.trade.places import place_factor

_HOW_OFTEN = """sometimes intermittent intermittently occasionally always often usually today yesterday week
    weeks month months year years last now again"""
_PASSING = frozenset(stem(word) for word in _HOW_OFTEN.split())
_TERMS_OF_TIME = frozenset(f"{sign}{word}" for sign in ("", "not_", "=", "not_=") for word in _PASSING)
MOST_HEARD = 6
LEAST_CHANCE = 0.08


@dataclass(frozen=True, slots=True)
class Heard:
    """A listed symptom and the chance in (0, 1] that the words mean it."""

    symptom: str
    chance: float


# Logistic weights of the columns of `likeness`, fitted on the trade list itself: each phrasing was asked as
# it is, with other words around it and with slips of a thumb, mostly of a spotter without it.
_BIAS = -5.44
_WEIGHTS = (-10.36, 11.76, 9.97, -1.22, 0.93, 6.68, -0.72)


class SymptomSpotter:
    """The phrasings of the trade's symptoms, ready for hearing."""

    def __init__(self, trade: Trade, analyzer: Analyzer) -> None:
        self._analyzer = analyzer
        self._ids = tuple(trade.symptoms)
        phrases = [(n, phrase) for n, id in enumerate(self._ids) for phrase in _phrases(trade.symptoms[id])]
        owner = np.asarray([n for n, _ in phrases], dtype=np.int64)
        self._first_phrases = np.flatnonzero(np.diff(owner, prepend=-1))
        read = [_telling(analyzer.analyze(phrase)) for _, phrase in phrases]
        kin = _kin(trade)
        causes = [analyzer.analyze(kin[id]).terms for id in self._ids]
        said = [analysis.terms for analysis in read]
        self._terms = Terms([*said, *causes])
        self._words = Tfidf(said, terms=self._terms)
        self._whole = Tfidf(_together(read, owner, len(self._ids)), terms=self._terms, sublinear=True)
        self._kin = Tfidf(causes, terms=self._terms, sublinear=True)
        self._chars = Tfidf([analysis.chars() for analysis in read], sublinear=True)
        words = self._words.sparse
        self._all = Stacked(
            [words, words.squared(), self._whole.sparse, self._kin.sparse, self._chars.sparse]
        )
        self._usual = _usual(trade)
        self._mentions = Mentions(trade, analyzer)

    def naming(self, trade: Trade) -> SymptomSpotter:
        """A spotter that hears as this one does and finds the components of other lists."""
        other = copy(self)
        other._mentions = Mentions(trade, self._analyzer)
        return other

    def hear(self, said: Analysis | str) -> tuple[Heard, ...]:
        """Listed symptoms heard in a text, best first, at most six; nonsense gives few or none."""
        analysis = self._read(said)
        if not analysis.terms or not self._ids:
            return ()
        chances = self.chances(analysis)
        best = np.argsort(-chances, kind="stable")[:MOST_HEARD]
        return tuple(Heard(self._ids[n], float(chances[n])) for n in best if chances[n] >= LEAST_CHANCE)

    def mentioned(self, said: Analysis | str) -> tuple[Mentioned, ...]:
        """Components named in a text, heaviest first; weights in (0, 1]."""
        return self._mentions.find(self._read(said))

    def _read(self, said: Analysis | str) -> Analysis:
        return self._analyzer.analyze(said) if isinstance(said, str) else said

    def chances(self, analysis: Analysis) -> Floats:
        """The chance of each listed symptom, in the order of the trade list."""
        score = _BIAS + self.likeness(analysis) @ np.asarray(_WEIGHTS)
        return np.asarray(1.0 / (1.0 + np.exp(-score)), dtype=np.float64)

    def likeness(self, analysis: Analysis) -> Floats:
        """A row per symptom, columns in [0, 1]: best phrase by words and its square, all phrases together,
        best by spelling, words of its causes, the lead over the others, and how usual it is.
        """
        analysis = _telling(analysis)
        terms, grams = self._terms.counted(analysis.terms), self._chars.terms.counted(analysis.chars())
        cosine, inside, whole, kin, chars = self._all.dots(
            [
                (terms.numbers, self._words.weights(terms)),
                (terms.numbers, np.ones(len(terms.numbers))),
                (terms.numbers, self._whole.weights(terms)),
                (terms.numbers, self._kin.weights(terms)),
                (grams.numbers, self._chars.weights(grams)),
            ]
        )
        phrase, spelling = self._best_by_symptom(np.stack((np.sqrt(cosine * inside), chars)))
        together = phrase + whole + spelling + kin
        lead = together / max(float(together.max(initial=0.0)), 0.8)
        return np.stack((phrase, phrase**2, whole, spelling, kin, lead, self._usual), axis=1)

    def _best_by_symptom(self, scores: Floats) -> Floats:
        """(..., S) the best of each symptom's phrases, which stand together; each has its title at least."""
        return np.maximum.reduceat(scores, self._first_phrases, axis=-1)


def _telling(analysis: Analysis) -> Analysis:
    """The analysis without words that say when or how often: they would point at any symptom told so."""
    # pairs are made of terms that stand there alone too
    if _TERMS_OF_TIME.isdisjoint(analysis.terms) and not any(map(_of_time, analysis.words)):
        return analysis
    terms = tuple(term for term in analysis.terms if _TERMS_OF_TIME.isdisjoint(term.split()))
    words = tuple(word for word in analysis.words if not _of_time(word))
    return replace(analysis, terms=terms, words=words) if terms else analysis


def _of_time(word: str) -> bool:
    return stem(word) in _PASSING


def _phrases(symptom: Symptom) -> Iterator[str]:
    yield symptom.title
    yield from symptom.said_by_customer
    yield from symptom.written_by_tech
    yield from symptom.misheard_or_typo


def _kin(trade: Trade) -> dict[str, str]:
    """Per symptom the words of the causes that show as it: their titles and their components' names."""
    words = dict.fromkeys(trade.symptoms, "")
    for cause in trade.causes.values():
        component = trade.components[cause.component]
        text = ". ".join((cause.title, component.title, *component.also, ""))
        for symptom in cause.symptoms:
            words[symptom] += text
    return words


def _usual(trade: Trade) -> Floats:
    """How usual each symptom is, in [0, 1]: the log of its causes' weights against the most usual one."""
    weight = dict.fromkeys(trade.symptoms, 1.0)
    for cause in trade.causes.values():
        for place, symptom in enumerate(cause.symptoms):
            weight[symptom] += place_factor(place) * cause.weight
    logs = np.log(np.asarray(list(weight.values()) or [1.0]))
    return np.asarray(logs / max(float(logs.max()), 1.0), dtype=np.float64)[: len(weight)]


def _together(read: Sequence[Analysis], owner: Ints, symptoms: int) -> list[Counter[str]]:
    counts = [Counter[str]() for _ in range(symptoms)]
    for analysis, n in zip(read, owner, strict=True):
        counts[n].update(analysis.terms)
    return counts
