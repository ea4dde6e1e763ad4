"""What a question and a past case have in common, as numbers and as words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields
from math import expm1
from operator import attrgetter, mul

import numpy as np
import numpy.typing as npt

from baylore_kb.casedoc import CaseDoc, system_of
from baylore_kb.index import Candidate, Snapshot
from baylore_kb.question import Question
from baylore_kb.readinglikeness import Agreement, agreement
from baylore_kb.testlikeness import TestAgreement, compare_tests
from baylore_kb.tfidf import smooth_idf
from baylore_kb.tokens import fold
from baylore_kb.trade.model import Trade
from baylore_kb.values import Vehicle, Why
from baylore_kb.vehicle import LEVELS, Nearness, nearness

_MOST_WORDS = 6
_LEAST_SAID = 0.05
# In a story of more words than this, what is heard in it is heard less surely.
_BRIEF = 12.0


@dataclass(frozen=True, slots=True)
class Features:
    """What is shared, each in [0, 1]; names ending in `_apart` count against.

    words: share of the question's weight; chars: the same with words spelt alike; cosine: TF-IDF;
    symptoms: chance that one is shared, less for one that much of the shop's work has, and less in a long
    story; codes: rarity of the shared ones; car_*: how far up each step of `vehicle.Nearness`; readings,
    tests: agreement; system, part: the case's cause lies where the question points.
    """

    words: float
    cosine: float
    chars: float
    symptoms: float
    symptoms_apart: float
    codes: float
    codes_apart: float
    car_open: float
    car_make: float
    car_engine: float
    car_model: float
    car_years: float
    car_whole: float
    car_same: float
    readings: float
    readings_apart: float
    tests: float
    tests_apart: float
    system: float
    part: float

    def row(self) -> tuple[float, ...]:
        """The numbers in field order, those that count against below zero."""
        return tuple(map(mul, _values(self), _SIGNS))


NAMES = tuple(each.name for each in fields(Features))
_CAR = tuple(f"car_{step}" for step in LEVELS)
_SIGNS = tuple(-1.0 if name.endswith("_apart") else 1.0 for name in NAMES)
_values = attrgetter(*NAMES)


@dataclass(frozen=True, slots=True)
class Shared:
    """A candidate with what it shares with the question, in numbers, and in words when they are wanted."""

    candidate: Candidate
    features: Features
    found: Found
    asked: _Asked

    @property
    def why(self) -> Why:
        """What is shared, as a member reads it."""
        listed = self.asked.trade.symptoms
        return Why(
            words=self.asked.shared_words(self.candidate.doc),
            codes=self.found.codes,
            symptoms=tuple(listed[id].title for id in self.found.symptoms if id in listed),
            vehicle=self.found.near.why,
            readings=self.found.readings.words,
            tests=self.found.tests.words,
        )


def compare(question: Question, candidates: Sequence[Candidate], snapshot: Snapshot) -> tuple[Shared, ...]:
    """The candidates with what each shares with the question, in their order."""
    asked = _Asked(question, snapshot)
    cosines = asked.cosines(candidates).tolist()
    return tuple(
        _compared(question, candidate, asked, cosine=cosine)
        for candidate, cosine in zip(candidates, cosines, strict=True)
    )


def _compared(question: Question, candidate: Candidate, asked: _Asked, *, cosine: float) -> Shared:
    found = _find(question, candidate.doc, asked)
    return Shared(candidate, _features(question, candidate, asked, found=found, cosine=cosine), found, asked)


@dataclass(frozen=True, slots=True)
class Found:
    """What a question and a past case have in common, before it is weighed."""

    symptoms: dict[str, float]
    codes: tuple[str, ...]
    near: Nearness
    readings: Agreement
    tests: TestAgreement


_NO_READINGS, _NO_TESTS = Agreement(), TestAgreement()


def _find(question: Question, doc: CaseDoc, asked: _Asked) -> Found:
    case = doc.case.complaint
    read, tested = question.judged and doc.judged, question.complaint.tests and case.tests
    return Found(
        symptoms=_shared_symptoms(asked.symptoms, doc),
        codes=tuple(code for code in question.codes if code in case.codes),
        near=asked.near(case.vehicle),
        readings=agreement(question.judged, doc.judged, asked.trade) if read else _NO_READINGS,
        tests=compare_tests(question.complaint.tests, case.tests, asked.trade) if tested else _NO_TESTS,
    )


def _features(
    question: Question, candidate: Candidate, asked: _Asked, *, found: Found, cosine: float
) -> Features:
    doc = candidate.doc
    readings, tests = found.readings, found.tests
    one_shared = _any_of(found.symptoms.values())
    telling = _any_of(chance * asked.telling[id] for id, chance in found.symptoms.items())
    return Features(
        words=candidate.words,
        cosine=cosine,
        chars=candidate.chars,
        symptoms=asked.brief * telling,
        symptoms_apart=asked.brief * asked.surest * _surest(doc.symptoms) * (1.0 - one_shared),
        codes=_any_of(asked.rarity[code] for code in found.codes),
        codes_apart=float(bool(question.codes) and bool(doc.case.complaint.codes) and not found.codes),
        **dict(zip(_CAR, found.near.steps, strict=True)),
        readings=-expm1(-readings.agree),
        readings_apart=-expm1(-readings.contradict),
        tests=-expm1(-tests.agree),
        tests_apart=-expm1(-tests.contradict),
        system=_system(candidate, question.systems, asked.trade),
        part=asked.brief * _named(question, doc, asked.trade) if question.mentioned else 0.0,
    )


def _any_of(chances: Iterable[float]) -> float:
    """Chance of at least one, given single chances; none gives 0."""
    missing = 1.0
    for chance in chances:
        missing *= 1.0 - chance
    return 1.0 - missing


def _surest(chances: Mapping[str, float]) -> float:
    return max(chances.values(), default=0.0)


def _shared_symptoms(symptoms: Mapping[str, float], doc: CaseDoc) -> dict[str, float]:
    shared = {id: chance * doc.symptoms[id] for id, chance in symptoms.items() if id in doc.symptoms}
    return {id: chance for id, chance in shared.items() if chance >= _LEAST_SAID}


def _system(candidate: Candidate, suspected: tuple[str, ...], trade: Trade) -> float:
    """How well the case's system is suspected; where it is none of the lists, the story stands in."""
    system = system_of(candidate.case, trade)
    return _pointed_at(system, suspected) if system in trade.systems else candidate.words


def _pointed_at(system: str | None, suspected: tuple[str, ...]) -> float:
    return 1.0 / (1.0 + suspected.index(system)) if system in suspected else 0.0


def _named(question: Question, doc: CaseDoc, trade: Trade) -> float:
    """Weight with which the question names the component of the case's cause."""
    cause = trade.causes.get(doc.case.cause or "")
    if cause is None:
        return 0.0
    return next((m.weight for m in question.mentioned if m.component == cause.component), 0.0)


class _Asked:
    """The question made ready for many comparisons: terms as numbers with weights, rarity of its codes."""

    def __init__(self, question: Question, snapshot: Snapshot) -> None:
        self.trade = snapshot.trade
        self.symptoms = question.symptoms
        self.telling = {id: 1.0 - snapshot.share(f"symptom:{id}") for id in self.symptoms}
        self.surest = _surest(self.symptoms)
        self.brief = min(1.0, _BRIEF / max(len(question.analysis.stems), 1))
        self._vehicle = question.complaint.vehicle
        self._cars = snapshot.cars
        self._near: dict[tuple[object, ...], Nearness] = {}
        self.rarity = {code: snapshot.code_rarity(code) for code in question.codes}
        self._shown = _words_shown(question)
        self._weights = snapshot.term_weights(question.analysis)
        self._pairs = _pairs_written(question)
        size = len(snapshot.living.terms)
        numbers = ((term, snapshot.reader.lexicon.number(term)) for term in self._weights)
        self._terms = {number: term for term, number in numbers if number is not None and number < size}
        self._idf = smooth_idf(len(snapshot.living.numbers), snapshot.living.terms)
        self._query = np.zeros(size)
        self._readable = np.zeros(size, dtype=np.bool_)
        for number, term in self._terms.items():
            self._query[number] = self._weights[term]
            self._readable[number] = _readable(term)

    def near(self, past: Vehicle) -> Nearness:
        """How near a past case's vehicle is; each kind of car is compared once."""
        kind = (past.make, past.model, past.year, past.engine, past.vin)
        found = self._near.get(kind)
        if found is None:
            found = self._near[kind] = nearness(self._vehicle, self._cars.same_spelling(past))
        return found

    def cosines(self, candidates: Sequence[Candidate]) -> npt.NDArray[np.float64]:
        """TF-IDF cosine (sublinear) of the question with each candidate; no terms gives zeros."""
        if not candidates:
            return np.zeros(0)
        sizes = np.array([len(candidate.doc.terms) for candidate in candidates])
        held = np.flatnonzero(sizes)
        found = np.zeros(len(candidates))
        if not held.size:
            return found
        numbers = np.concatenate([candidate.doc.terms for candidate in candidates])
        tf = np.log1p(np.concatenate([candidate.doc.weights for candidate in candidates]), dtype=np.float64)
        values = tf * self._idf[numbers]
        starts = (np.cumsum(sizes) - sizes)[held]
        dots = np.add.reduceat(values * self._query[numbers], starts)
        lengths = np.sqrt(np.add.reduceat(values * values, starts)) * np.linalg.norm(self._query)
        found[held] = np.divide(dots, lengths, out=np.zeros(len(held)), where=lengths > 0)
        return found

    def shared_words(self, doc: CaseDoc) -> tuple[str, ...]:
        """The heaviest shared terms as a member reads them, a word inside a shared pair left out."""
        chosen = [self._terms[number] for number in doc.terms[self._readable[doc.terms]].tolist()]
        chosen.sort(key=lambda term: (not term.startswith("not_"), -self._weights[term], term))
        singles = (self._shown[term] for term in chosen)
        words: list[str] = []
        for shown in (*self._shared_pairs(set(chosen), doc), *singles):
            if len(words) < _MOST_WORDS and not any(shown in other for other in words):
                words.append(shown)
        return tuple(words)

    def _shared_pairs(self, stems: set[str], doc: CaseDoc) -> list[str]:
        """Pairs of shared words that stand side by side in both, as the question writes them."""
        likely = [pair for pair in self._pairs if stems.issuperset(pair.split(" "))]
        if not likely:
            return []
        said = fold(f"{doc.case.complaint.text} . {doc.case.title} . {doc.case.note}")
        held = [pair for pair in likely if self._pairs[pair] in said]
        return [self._pairs[p] for p in sorted(held, key=lambda p: (-sum(map(self._weigh, p.split(" "))), p))]

    def _weigh(self, term: str) -> float:
        return self._weights.get(term, 0.0)


def _words_shown(question: Question) -> dict[str, str]:
    """Each term in words; of a negated word also the word alone, which a case may share without the not."""
    shown = question.analysis.shown
    bare = {term.removeprefix("not_"): words.removeprefix("not ") for term, words in shown.items()}
    return bare | dict(shown)


def _pairs_written(question: Question) -> dict[str, str]:
    """The pairs of the question that stand in it as shown; a word left out between would show none."""
    written, shown = fold(question.mended), question.analysis.shown
    return {term: words for term, words in shown.items() if " " in term and words in written}


def _readable(term: str) -> bool:
    """Whether a shared term is a word both wrote: kindred words and bare units of time are not."""
    bare = term.removeprefix("not_")
    return bare[0] != "=" and not (bare[0] == "~" and bare[1:].isalpha())
