"""A case as the index holds it: weighted terms, written words, facets and the symptoms heard."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from baylore_kb.lexicon import Lexicon, Numbers, WordBook
from baylore_kb.readings import judge_all
from baylore_kb.symptoms import Heard, SymptomSpotter
from baylore_kb.terms import weighted
from baylore_kb.text import Analyzer
from baylore_kb.trade.model import Trade
from baylore_kb.trade.own.ids import words_of
from baylore_kb.values import Case, Complaint, Judged
from baylore_kb.vehicle import Kind, kind_of, name_key
from baylore_kb.vehicle.cars import engine_facet, pair_facet

# The complaint and the title say what it was like, the rest what it turned out to be.
_COMPLAINT, _TITLE, _CAUSE, _NOTE, _SYMPTOM, _STEP = 1.0, 1.0, 0.5, 0.5, 0.35, 0.25
# A symptom only heard in the words counts as the case's own from this chance on.
SURELY_HEARD = 0.3


@dataclass(frozen=True, slots=True, eq=False)
class CaseDoc:
    """One case made ready: `terms` and `words` are numbers, `weights` go with terms, `length` sums them.

    `symptoms` are chances, given ones at 1, `surest` the highest of them; `judged` are the readings before
    the correction and what follows from them; `car` is what of the vehicle is compared.
    """

    case: Case
    terms: Numbers
    weights: npt.NDArray[np.float32]
    words: Numbers
    length: float
    facets: frozenset[str]
    symptoms: Mapping[str, float]
    judged: tuple[Judged, ...]
    surest: float = field(init=False, repr=False)
    car: Kind = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "surest", max(self.symptoms.values(), default=0.0))
        object.__setattr__(self, "car", kind_of(self.case.complaint.vehicle))


_NOTHING = np.zeros(0, dtype=np.int32)
# Stands where a document lay that is dead: its number stays taken, what it held is let go.
GONE = CaseDoc(
    Case("", Complaint("")), _NOTHING, np.zeros(0, dtype=np.float32), _NOTHING, 0.0, frozenset(), {}, ()
)


@dataclass(frozen=True, slots=True)
class Reader:
    """Makes cases ready with one analyzer, one set of numbers and one spotter."""

    analyzer: Analyzer
    lexicon: Lexicon
    book: WordBook
    trade: Trade
    spotter: SymptomSpotter

    def read(self, case: Case) -> CaseDoc:
        """The case as the index holds it; an empty case has no terms."""
        said = self.analyzer.analyze(case.complaint.text)
        symptoms = merge_heard(dict.fromkeys(case.complaint.symptoms, 1.0), self.spotter.hear(said))
        counts: dict[str, float] = defaultdict(float)
        words: dict[str, None] = {}
        others = ((self.analyzer.analyze(text), weight) for text, weight in self._texts(case, symptoms))
        for analysis, weight in ((said, _COMPLAINT), *others):
            words.update(dict.fromkeys(analysis.words))
            for term, uses in weighted(analysis).items():
                counts[term] += weight * uses
        numbers = self.lexicon.numbers(counts)
        order = np.argsort(numbers)
        weights = np.asarray(list(counts.values()), dtype=np.float32)
        facets = facets_of(case, symptoms, self.trade)
        return CaseDoc(
            case,
            numbers[order],
            weights[order],
            self.book.numbers(words),
            round(sum(counts.values()), 3),
            facets,
            symptoms,
            judge_all((one for one in case.complaint.readings if one.when == "before"), self.trade),
        )

    def _texts(self, case: Case, symptoms: dict[str, float]) -> Iterator[tuple[str, float]]:
        yield case.title, _TITLE
        yield self._cause_title(case), _CAUSE
        yield case.note, _NOTE
        yield case.correction.text if case.correction else "", _NOTE
        yield " ".join(case.complaint.codes), _NOTE
        yield " . ".join(_step_notes(case)), _STEP
        for symptom, chance in symptoms.items():
            if chance >= SURELY_HEARD and symptom in self.trade.symptoms:
                yield self.trade.symptoms[symptom].title, _SYMPTOM * chance

    def _cause_title(self, case: Case) -> str:
        if case.cause_title or case.cause is None or case.cause not in self.trade.causes:
            return case.cause_title
        return self.trade.causes[case.cause].title


def _step_notes(case: Case) -> Iterator[str]:
    """What was written beside tests, parts and repairs: of a half cure, what stayed wrong."""
    said = case.complaint
    yield from (test.note for test in said.tests)
    yield from (part.note for part in said.parts)
    yield from (repair.note for repair in said.repairs)


def merge_heard(given: dict[str, float], heard: tuple[Heard, ...]) -> dict[str, float]:
    """Symptoms with their chances: given ones as they are, heard ones beside them."""
    return {**{each.symptom: each.chance for each in heard}, **given}


def system_of(case: Case, trade: Trade) -> str | None:
    """The system a closed case turned out to be of; None while not known."""
    if case.cause_system:
        return case.cause_system
    return trade.causes[case.cause].system if case.cause and case.cause in trade.causes else None


def system_title(system: str, trade: Trade) -> str:
    """The listed title of a system, else the words of its id ("own.drive_line": "drive line")."""
    known = trade.systems.get(system)
    return known.title if known else words_of(system)


def facets_of(case: Case, symptoms: Mapping[str, float], trade: Trade) -> frozenset[str]:
    """What a case can be found by besides its words: "code:P0301", "symptom:no_heat", "make:Tarrow"."""
    return frozenset(_facets(case, symptoms, trade))


def _facets(case: Case, symptoms: Mapping[str, float], trade: Trade) -> Iterator[str]:
    for code in case.complaint.codes:
        yield f"code:{code}"
    for symptom, chance in symptoms.items():
        if chance >= SURELY_HEARD:
            yield f"symptom:{symptom}"
    vehicle = case.complaint.vehicle
    yield f"make:{vehicle.make}"
    yield f"model:{vehicle.model}"
    yield f"pair:{pair_facet(vehicle)}"
    yield f"built:{engine_facet(vehicle)}"
    system = system_of(case, trade)
    if system is not None:
        yield car_facet(case.complaint.vehicle.model, system)
        yield f"system:{system}"


def car_facet(model: str, system: str) -> str:
    """The facet of a model with a system at fault; an unknown model is one of its own."""
    return f"car:{name_key(model)}|{system}"
