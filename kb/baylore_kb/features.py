"""What a question and its candidates have in common, as numbers and as words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from math import expm1, sqrt

import numpy as np
import numpy.typing as npt

from baylore_kb.casedoc import CaseDoc, system_of
from baylore_kb.index import Candidate, Snapshot
from baylore_kb.question import Question
from baylore_kb.readinglikeness import agreement
from baylore_kb.sharedwords import SharedWords
from baylore_kb.system_sounds import Sound
from baylore_kb.testlikeness import TestsHere
from baylore_kb.values import Why
from baylore_kb.vehicle import LEVELS, OF_THE_MAKE, THE_SAME, Kind, Nearness, kind_of, near

Floats = npt.NDArray[np.float64]

_CAR = tuple(f"car_{step}" for step in LEVELS)
# What is shared, each in [0, 1]; names ending in `_apart` count against.
# words: share of the question's weight; chars: the same with words spelt alike; cosine: TF-IDF;
# symptoms: chance that one is shared, less for one that much of the shop's work has, and less in a long
# story; codes: rarity of the shared ones; car_*: how far up each step of `vehicle.Nearness`, less where much
# of the shop's work is on that make or model; readings,
# tests: agreement; system, part: the case's cause lies where the question points, as far as it points there.
NAMES = (
    *("words", "cosine", "chars", "symptoms", "symptoms_apart", "codes", "codes_apart"),
    *_CAR,
    *("readings", "readings_apart", "tests", "tests_apart", "system", "part"),
)
_AT = {name: place for place, name in enumerate(NAMES)}
_SIGNS = np.array([-1.0 if name.endswith("_apart") else 1.0 for name in NAMES])
_LEAST_SAID = 0.05
# In a story of more words than this, what is heard in it is heard less surely.
_BRIEF = 12.0


@dataclass(frozen=True, slots=True)
class Compared:
    """M candidates with what each shares with the question: `rows` (M, features) are in order of `NAMES`,
    those that count against below zero; in words when they are wanted.
    """

    candidates: Sequence[Candidate]
    rows: Floats
    asked: _Asked

    def why(self, place: int) -> Why:
        """What the candidate at this place shares, as a member reads it."""
        return self.asked.why(self.candidates[place].doc)


def compare(question: Question, candidates: Sequence[Candidate], snapshot: Snapshot) -> Compared:
    """The candidates with what each shares with the question, in their order; none gives no rows."""
    asked = _Asked(question, snapshot)
    return Compared(candidates, asked.rows(candidates), asked)


def _any_of(chances: Iterable[float]) -> float:
    """Chance of at least one, given single chances; none gives 0."""
    missing = 1.0
    for chance in chances:
        missing *= 1.0 - chance
    return 1.0 - missing


def _suspected(share: float, sound: Sound | None) -> float:
    """The root of the lists' share or, as far as it is known, of how far the story sounds like the system."""
    if sound is None:
        return sqrt(share)
    return sound.known * sqrt(sound.share) + (1.0 - sound.known) * sqrt(share)


def _alike(stories: float, sound: Sound | None) -> float:
    """How alike the stories are; as far as the system's sound is known, the geometric mean with that."""
    if sound is None:
        return stories
    return sound.known * sqrt(sqrt(sound.share) * stories) + (1.0 - sound.known) * stories


class _Asked:
    """The question made ready for many comparisons: terms as numbers with weights, rarity of its codes."""

    def __init__(self, question: Question, snapshot: Snapshot) -> None:
        self.question = question
        self.snapshot = snapshot
        self.trade = snapshot.trade
        self.brief = min(1.0, _BRIEF / max(len(question.analysis.stems), 1))
        self._vin = question.complaint.vehicle.vin
        self._car = kind_of(question.complaint.vehicle)
        self._weights = question.weights

    def rows(self, candidates: Sequence[Candidate]) -> Floats:
        """What is shared (M, features)."""
        docs = [candidate.doc for candidate in candidates]
        rows = np.zeros((len(docs), len(NAMES)))
        if not docs:
            return rows
        rows[:, _AT["words"]] = [candidate.words for candidate in candidates]
        rows[:, _AT["chars"]] = [candidate.chars for candidate in candidates]
        rows[:, _AT["cosine"]] = self._cosines(docs)
        rows[:, _AT[_CAR[0]] : _AT[_CAR[-1]] + 1] = self._steps(docs) * self._step_worth()
        shared = self._shared_symptoms(docs)
        self._symptoms(docs, rows, shared)
        rows[:, _AT["system"]] = self._systems(docs, self._stories(rows[:, _AT["words"]], shared))
        self._codes(docs, rows)
        self._measured(docs, rows)
        self._tested(docs, rows)
        self._mentioned(docs, rows)
        return np.asarray(rows * _SIGNS)

    def _symptoms(self, docs: Sequence[CaseDoc], rows: Floats, shared: Floats) -> None:
        asked = self.question.symptoms
        if not asked:
            return
        telling = np.array([self.snapshot.seldom(f"symptom:{id}") for id in asked])
        surest = np.array([doc.surest for doc in docs])
        apart = max(asked.values()) * surest * np.prod(1.0 - shared, axis=1)
        rows[:, _AT["symptoms"]] = self.brief * (1.0 - np.prod(1.0 - shared * telling, axis=1))
        rows[:, _AT["symptoms_apart"]] = self.brief * apart

    def _shared_symptoms(self, docs: Sequence[CaseDoc]) -> Floats:
        """Chance (M, symptoms heard) that the question and the case both have it."""
        asked = self.question.symptoms
        held = np.array(
            [symptoms.get(id, 0.0) for symptoms in (doc.symptoms for doc in docs) for id in asked]
        )
        shared = held.reshape(len(docs), len(asked)) * np.fromiter(asked.values(), dtype=np.float64)
        shared[shared < _LEAST_SAID] = 0.0
        return shared

    def _stories(self, words: Floats, shared: Floats) -> Floats:
        """How alike the stories are, by words and by symptoms, half each; by words where none was heard."""
        symptoms = self.brief * (1.0 - np.prod(1.0 - shared, axis=1))
        return np.asarray((words + symptoms) / 2.0) if self.question.symptoms else words

    def _codes(self, docs: Sequence[CaseDoc], rows: Floats) -> None:
        if not self.question.codes:
            return
        rarity = {code: self.snapshot.code_rarity(code) for code in self.question.codes}
        for place, doc in enumerate(docs):
            theirs = doc.case.complaint.codes
            shared = [rarity[code] for code in rarity if code in theirs]
            rows[place, _AT["codes"]] = _any_of(shared)
            rows[place, _AT["codes_apart"]] = float(bool(theirs) and not shared)

    def _measured(self, docs: Sequence[CaseDoc], rows: Floats) -> None:
        mine = self.question.judged
        for place, doc in enumerate(docs if mine else ()):
            if doc.judged:
                found = agreement(mine, doc.judged, self.trade)
                rows[place, _AT["readings"]] = -expm1(-found.agree)
                rows[place, _AT["readings_apart"]] = -expm1(-found.contradict)

    def _tested(self, docs: Sequence[CaseDoc], rows: Floats) -> None:
        for place, doc in enumerate(docs if self.question.complaint.tests else ()):
            agree, contradict = self._tests.weigh(doc.case.complaint.tests)
            if agree or contradict:
                rows[place, _AT["tests"]] = -expm1(-agree)
                rows[place, _AT["tests_apart"]] = -expm1(-contradict)

    def _mentioned(self, docs: Sequence[CaseDoc], rows: Floats) -> None:
        """Weight with which the question names the component of each case's cause."""
        named: dict[str, float] = {}
        for one in self.question.mentioned:
            named.setdefault(one.component, one.weight)
        for place, doc in enumerate(docs if named else ()):
            cause = self.trade.causes.get(doc.case.cause or "")
            if cause is not None:
                rows[place, _AT["part"]] = self.brief * named.get(cause.component, 0.0)

    def _systems(self, docs: Sequence[CaseDoc], stories: Floats) -> list[float]:
        """How far each case's system is suspected: the root of its share, as the second is often the one.

        Where it is none of the lists, the likeness of the stories stands in. In a shop with systems of its
        own it counts too how far the story sounds like the case's system. For one that no list has that alone
        ranks no better where only the system must be right, and worse where the very cause must be.
        """
        suspected, sounds = self.question.systems, self.question.sounds
        systems = (system_of(doc.case, self.trade) or "" for doc in docs)
        return [
            _suspected(suspected.get(system, 0.0), sounds.get(system))
            if system in self.trade.systems
            else _alike(story, sounds.get(system))
            for system, story in zip(systems, stories.tolist(), strict=True)
        ]

    def _step_worth(self) -> Floats:
        """What each step towards the same car says here: little of a make that most cases have."""
        make, model = self.snapshot.cars.rarity(self.question.complaint.vehicle)
        return np.array([make if step in OF_THE_MAKE else model for step in LEVELS])

    def _steps(self, docs: Sequence[CaseDoc]) -> Floats:
        """How far up each step (M, steps) of nearness the cases' vehicles are."""
        cars = [doc.car for doc in docs]
        steps = {car: self._near(car).steps for car in set(cars)}
        found = np.array([steps[car] for car in cars])
        if self._vin:
            found[[doc.case.complaint.vehicle.vin == self._vin for doc in docs]] = THE_SAME.steps
        return found

    def _near(self, car: Kind) -> Nearness:
        return near(self._car, self.snapshot.cars.as_written(car))

    def _nearness(self, doc: CaseDoc) -> Nearness:
        """How near the case's vehicle is."""
        if self._vin and doc.case.complaint.vehicle.vin == self._vin:
            return THE_SAME
        return self._near(doc.car)

    def _cosines(self, docs: Sequence[CaseDoc]) -> Floats:
        """TF-IDF cosine (sublinear) of the question with each case; no terms gives zeros."""
        sizes = np.array([len(doc.terms) for doc in docs])
        held = np.flatnonzero(sizes)
        found = np.zeros(len(docs))
        if not held.size:
            return found
        numbers = np.concatenate([doc.terms for doc in docs])
        tf = np.log1p(np.concatenate([doc.weights for doc in docs]), dtype=np.float64)
        values = tf * self.snapshot.idf[numbers]
        starts = (np.cumsum(sizes) - sizes)[held]
        query = self._query()
        dots = np.add.reduceat(values * query[numbers], starts)
        lengths = np.sqrt(np.add.reduceat(values * values, starts)) * np.linalg.norm(query)
        found[held] = np.divide(dots, lengths, out=np.zeros(len(held)), where=lengths > 0)
        return found

    def _query(self) -> Floats:
        query = np.zeros(len(self.snapshot.living.terms))
        for number, term in self._numbered.items():
            query[number] = self._weights[term]
        return query

    def why(self, doc: CaseDoc) -> Why:
        """What a case shares, as a member reads it."""
        asked, past, trade = self.question, doc.case.complaint, self.trade
        chances = {id: chance * doc.symptoms.get(id, 0.0) for id, chance in asked.symptoms.items()}
        shared = (id for id, chance in chances.items() if chance >= _LEAST_SAID and id in trade.symptoms)
        return Why(
            words=self._words.of(doc),
            codes=tuple(code for code in asked.codes if code in past.codes),
            symptoms=tuple(trade.symptoms[id].title for id in shared),
            vehicle=self._nearness(doc).why,
            readings=agreement(asked.judged, doc.judged, trade).words,
            tests=self._tests.words(past.tests),
        )

    @cached_property
    def _tests(self) -> TestsHere:
        return TestsHere(self.question.complaint.tests, self.trade)

    @cached_property
    def _words(self) -> SharedWords:
        return SharedWords(self.question, self._weights, self._numbered)

    @cached_property
    def _numbered(self) -> dict[int, str]:
        return self.snapshot.numbered(self._weights)
