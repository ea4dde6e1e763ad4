"""What lists find a case by, worked out when it is kept."""

from __future__ import annotations

from collections.abc import Iterator

from baylore_kb.symptoms import SymptomSpotter
from baylore_kb.tokens import fold
from baylore_kb.trade.model import Trade
from baylore_service.store.cases import Facets
from baylore_service.store.records import CaseFile

# Below this a symptom only heard in the words is too unsure to file the case under its system.
SURELY_HEARD = 0.3


def facets_of(file: CaseFile, trade: Trade, spotter: SymptomSpotter) -> Facets:
    """Folded make, model and words of a case, and its systems."""
    return Facets(
        make=fold(file.vehicle.make),
        model=fold(file.vehicle.model),
        words="\n".join(fold(text) for text in _texts(file) if text),
        systems=_systems(file, trade, spotter),
    )


def _systems(file: CaseFile, trade: Trade, spotter: SymptomSpotter) -> tuple[str, ...]:
    """The system of the cause; before there is one, the first suspects of the symptoms."""
    if file.cause_system:
        return (file.cause_system,)
    heard = (each.symptom for each in spotter.hear(file.complaint_text) if each.chance >= SURELY_HEARD)
    suspects = (trade.symptoms[id].systems[:1] for id in (*file.symptoms, *heard) if id in trade.symptoms)
    return tuple(dict.fromkeys(system for some in suspects for system in some))


def _texts(file: CaseFile) -> Iterator[str]:
    car = file.vehicle
    yield from (file.title, file.complaint_text, file.note, file.cause_title, file.verification)
    yield " ".join((str(car.year or ""), car.make, car.model, car.engine, car.transmission, car.vin or ""))
    yield " ".join(file.codes)
    if file.correction is not None:
        yield f"{file.correction.action} {file.correction.text}"
    yield from (step.test.note for step in file.tests)
    yield from (step.part.note for step in file.parts)
    yield from (step.repair.note for step in file.repairs)
    yield from (step.skipped.note for step in file.skipped)
    yield from (step.objection.note for step in file.objections)
    yield from (step.reading.point for step in file.readings)
    yield from (photo.note for photo in file.photos)
