"""From what was sent to the engine's values; refuses what cannot be, naming the field."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from baylore_kb import values as kb
from baylore_kb.codes import parse_code
from baylore_kb.conditions import SHOWS_WHEN
from baylore_kb.trade.model import Trade
from baylore_kb.vehicle import filled_by_vin
from baylore_service.wire import known
from baylore_service.wire import values as w
from baylore_service.wire.complaint import Complaint


@dataclass(frozen=True, slots=True)
class Reader:
    """Reads what was sent against the trade lists and the time of asking."""

    trade: Trade
    now: datetime

    def complaint(self, sent: Complaint, *, skill: int) -> kb.Complaint:
        """A question, asked by a member of that skill."""
        return kb.Complaint(
            text=text_of(sent.complaint, field="complaint"),
            vehicle=self.vehicle(sent.vehicle),
            codes=codes(sent.codes),
            symptoms=self.symptoms(sent.symptoms),
            readings=self.readings(sent.readings),
            tests=self.tests(sent.tests),
            parts=self.parts(sent.parts),
            repairs=self.repairs(sent.repairs),
            skipped=self.skips(sent.skipped),
            objections=self.objections(sent.objections),
            comes_and_goes=sent.comes_and_goes,
            shows_when=shows_when(sent.shows_when),
            as_typed=sent.as_typed,
            skill=skill,
            minutes_spent=sent.minutes_spent,
        )

    def vehicle(self, sent: w.Vehicle, *, field: str = "vehicle") -> kb.Vehicle:
        """A vehicle; the VIN in its own form, year and make from it where they are not given."""
        typed = kb.Vehicle(
            year=known.model_year(sent.year, self.now, field=f"{field}.year"),
            make=sent.make.strip(),
            model=sent.model.strip(),
            engine=sent.engine.strip(),
            transmission=sent.transmission.strip(),
            odometer=odometer(sent.odometer, field=f"{field}.odometer"),
            vin=sent.vin,
            traits=frozenset(
                known.words_of(self.trade.traits, sent.traits, field=f"{field}.traits", what="trait")
            ),
            from_vin=frozenset(sent.from_vin),
        )
        return filled_by_vin(typed, this_year=self.now.year, field=f"{field}.vin")

    def symptoms(self, sent: Sequence[str], *, field: str = "symptoms") -> tuple[str, ...]:
        """Listed symptoms, each once."""
        return known.words_of(self.trade.symptoms, sent, field=field, what="symptom")

    def reading(self, sent: w.Reading, *, field: str) -> kb.Reading:
        """A reading in a unit its quantity has."""
        name = known.quantity_of(sent.quantity, self.trade, field=dotted(field, "quantity"))
        quantity = self.trade.quantities[name]
        known.unit_fits(sent, quantity.unit, accepted=quantity.accepted_units, field=field)
        return kb.Reading(
            quantity=name,
            value=sent.value,
            unit=sent.unit,
            point=sent.point.strip(),
            when=sent.when,
            conditions=self.conditions(sent.conditions, quantity=name, field=dotted(field, "conditions")),
        )

    def conditions(
        self, sent: Mapping[str, float | bool | str | w.Measure], *, quantity: str | None = None, field: str
    ) -> dict[str, kb.ConditionValue]:
        """Conditions by their listed name; a measure must be in a unit that exists."""
        found = {}
        for name, value in sent.items():
            name = known.condition_name(name, self.trade, quantity=quantity)
            condition = self.trade.conditions.get(name)
            found[name] = known.condition_value(value, condition, field=f"{field}.{name}")
        return found

    def test(self, sent: w.Test, *, field: str) -> kb.TestDone:
        """A test with an outcome it can show."""
        name = self.test_id(sent.test, field=dotted(field, "test"))
        return kb.TestDone(
            test=name,
            outcome=known.outcome_of(name, sent.outcome, self.trade, field=dotted(field, "outcome")),
            minutes=sent.minutes,
            note=sent.note.strip(),
            part=known.cause_of(sent.part, self.trade, field=dotted(field, "part")) if sent.part else None,
            fault_present=sent.fault_present,
        )

    def test_id(self, sent: str, *, field: str) -> str:
        """A listed test, by its id or another name of it."""
        name = self.trade.also_tests.get(sent, sent)
        return known.listed(name, self.trade.tests, field=field, what="test")

    def part(self, sent: w.Part, *, field: str) -> kb.PartTried:
        """A part of a listed component."""
        return kb.PartTried(
            component=self.component(sent.component, field=dotted(field, "component")),
            source=sent.source,
            result=sent.result,
            price=sent.price,
            note=sent.note.strip(),
            charged=sent.charged,
        )

    def repair(self, sent: w.Repair, *, field: str) -> kb.RepairTried:
        """A repair without a new part for a listed cause or one of the shop's own."""
        cause = known.cause_of(sent.cause, self.trade, field=dotted(field, "cause"))
        return kb.RepairTried(cause, sent.result, sent.minutes, sent.note.strip())

    def skip(self, sent: w.Skip, *, field: str) -> kb.Skipped:
        """A listed test, or one of the shop's own, that is not done."""
        name = known.skipped_test(sent.test, self.trade, field=dotted(field, "test"))
        return kb.Skipped(name, sent.because, sent.note.strip())

    def objection(self, sent: w.Objection, *, field: str) -> kb.Objected:
        """A listed cause, or one of the shop's own, that is held to be wrong."""
        cause = known.cause_of(sent.cause, self.trade, field=dotted(field, "cause"))
        return kb.Objected(cause, sent.because, sent.note.strip())

    def component(self, sent: str, *, field: str) -> str:
        """A listed component."""
        return known.listed(sent, self.trade.components, field=field, what="component")

    def correction(
        self, sent: str | w.Correction | None, *, field: str = "correction"
    ) -> kb.Correction | None:
        """What was done; plain text is the words for it."""
        if sent is None:
            return None
        if isinstance(sent, str):
            return kb.Correction(text=sent.strip())
        component = sent.component and self.component(sent.component, field=f"{field}.component")
        return kb.Correction(action=sent.action.strip(), component=component, text=sent.text.strip())

    def readings(self, sent: Sequence[w.Reading]) -> tuple[kb.Reading, ...]:
        """Readings in their order."""
        return tuple(self.reading(each, field=f"readings[{at}]") for at, each in enumerate(sent))

    def tests(self, sent: Sequence[w.Test]) -> tuple[kb.TestDone, ...]:
        """Tests in their order."""
        return tuple(self.test(each, field=f"tests[{at}]") for at, each in enumerate(sent))

    def parts(self, sent: Sequence[w.Part]) -> tuple[kb.PartTried, ...]:
        """Parts in their order."""
        return tuple(self.part(each, field=f"parts[{at}]") for at, each in enumerate(sent))

    def repairs(self, sent: Sequence[w.Repair]) -> tuple[kb.RepairTried, ...]:
        """Repairs in their order."""
        return tuple(self.repair(each, field=f"repairs[{at}]") for at, each in enumerate(sent))

    def skips(self, sent: Sequence[w.Skip]) -> tuple[kb.Skipped, ...]:
        """Skipped tests in their order."""
        return tuple(self.skip(each, field=f"skipped[{at}]") for at, each in enumerate(sent))

    def objections(self, sent: Sequence[w.Objection]) -> tuple[kb.Objected, ...]:
        """Objections in their order."""
        return tuple(self.objection(each, field=f"objections[{at}]") for at, each in enumerate(sent))


def dotted(field: str, name: str) -> str:
    """The path of `name` inside `field`; a body of its own has no path before it."""
    return f"{field}.{name}" if field else name


def text_of(sent: str, *, field: str) -> str:
    """Words that say something."""
    text = sent.strip()
    if not text:
        known.refuse("nothing was said", field=field, remedy="write what the car does, in a few words")
    return text


def codes(sent: Sequence[str | w.Code]) -> tuple[str, ...]:
    """Trouble codes in their canonical form, each once."""
    texts = (each if isinstance(each, str) else each.code for each in sent)
    return tuple(dict.fromkeys(parse_code(text, field=f"codes[{at}]") for at, text in enumerate(texts)))


def shows_when(sent: Sequence[str]) -> tuple[str, ...]:
    """Conditions the fault shows in, each once."""
    for at, each in enumerate(sent):
        if each not in SHOWS_WHEN:
            remedy = f"use one of: {', '.join(SHOWS_WHEN)}"
            known.refuse(f"unknown condition {each!r}", field=f"shows_when[{at}]", remedy=remedy)
    return tuple(dict.fromkeys(sent))


def odometer(sent: w.Measure | None, *, field: str) -> kb.Measure | None:
    """A distance the car has run, in km or miles."""
    if sent is None:
        return None
    if not 0 <= sent.value <= 5_000_000:
        known.refuse(f"{sent.value:g} cannot be", field=f"{field}.value", remedy="give 0 to 5,000,000")
    known.unit_fits(sent, "kilometer", accepted=("kilometer", "mile"), field=field)
    return kb.Measure(sent.value, sent.unit)


def labour(sent: w.Labour) -> kb.Labour:
    """Minutes and rate of a job."""
    return kb.Labour(sent.diagnosis_min, sent.repair_min, sent.not_billed_min, sent.rate_per_hour)
