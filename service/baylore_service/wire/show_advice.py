"""From the engine's advice to what is answered."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import UNSET

from baylore_kb import values as kb
from baylore_kb.trade.model import Trade
from baylore_service.wire import advice as a
from baylore_service.wire import show
from baylore_service.wire import show_reasons as why
from baylore_service.wire.show_reasons import chance


def advice(
    found: kb.Advice,
    trade: Trade,
    *,
    currency: str,
    this_year: int | None = None,
) -> a.Advice:
    """Advice with the titles a phone shows.

    `this_year` tells which model years of a VIN are still to come.
    """
    return a.Advice(
        cases=tuple(case_row(match) for match in found.cases),
        causes=tuple(cause_row(cause) for cause in found.causes),
        unlisted=chance(found.unlisted),
        tests=tuple(test_row(test) for test in found.tests),
        next=next_step(found, trade, currency=currency),
        readings=tuple(judged(row) for row in found.readings),
        read_as=tuple(a.ReadAs(each.typed, each.read, each.kind, each.at) for each in found.read_as),
        symptoms=heard(found.heard, trade),
        cautions=found.cautions,
        dropped=why.dropped(found.dropped),
        conflicts=why.conflicts(found.conflicts),
        ruled_out=why.ruled_out(found.ruled_out),
        price=why.price(found.price),
        questions=why.questions(found.questions),
        car=car(found.car, this_year=this_year),
        revision=found.revision,
    )


def car(known: kb.KnownCar, *, this_year: int | None) -> a.Car:
    """The car the answer is for."""
    return a.Car(show.vehicle(known.vehicle, this_year=this_year), dict(known.origins), known.engines)


def case_row(match: kb.Match) -> a.CaseRow:
    """A past case as one line."""
    case, shared = match.case, match.why
    return a.CaseRow(
        case=case.id,
        title=case.title or case.cause_title or case.complaint.text[:80],
        chance=chance(match.chance),
        cause=case.cause,
        correction=correction_text(case.correction),
        why=shown_why(shared),
        vehicle=car_name(case.complaint.vehicle),
        state=case.state,
    )


def shown_why(shared: kb.Why) -> a.Why:
    """What a past case shares with the complaint."""
    return a.Why(shared.words, shared.codes, shared.symptoms, shared.vehicle, shared.readings, shared.tests)


def correction_text(done: kb.Correction | None) -> str:
    """What was done, in words; empty when nothing is known."""
    return "" if done is None else done.text or done.action


def car_name(car: kb.Vehicle) -> str:
    """The car in the shop's words, such as "2011 Tarrow Linnet"."""
    return " ".join(str(part) for part in (car.year, car.make, car.model) if part)


def cause_row(cause: kb.CauseChance) -> a.CauseRow:
    """A likely cause."""
    ours = f"{cause.cases} of your cases" if cause.cases else "trade knowledge"
    return a.CauseRow(
        cause=cause.cause,
        title=cause.title,
        probability=chance(cause.probability),
        cases=cause.cases,
        system=cause.system,
        speaks=cause.from_words or ours,
        moved=why.moved(cause.moved),
        from_cases=cause.from_cases,
    )


def test_row(test: kb.NextTest) -> a.TestRow:
    """A proposed test."""
    return a.TestRow(
        test=test.test,
        title=test.title,
        minutes=round(test.minutes, 1),
        saves=round(test.saves, 1),
        setup=test.setup,
        tells_apart=test.tells_apart,
        cautions=test.cautions,
        skill=test.skill,
        allowed=test.allowed,
        note=test.note,
        why=test.why,
        outcomes=tuple(outcome_row(each) for each in test.outcomes),
    )


def outcome_row(outcome: kb.OutcomeChance) -> a.OutcomeRow:
    """What a test may show."""
    return a.OutcomeRow(
        outcome=outcome.outcome,
        means=outcome.means,
        probability=chance(outcome.probability),
        then_cause=outcome.then_cause,
        names_part=outcome.names_part,
        then=why.then(outcome.then),
    )


def next_step(found: kb.Advice, trade: Trade, *, currency: str) -> a.Next:
    """What to do next; fields that do not apply stay away."""
    step = found.next
    money = step.expected_cost is not None
    return a.Next(
        do=step.do,
        why=step.why,
        test=step.test or UNSET,
        cause=step.cause or UNSET,
        title=title_of(found, trade) or UNSET,
        component=step.component or UNSET,
        part_source=step.part_source or UNSET,
        expected_cost=round(step.expected_cost, 2) if step.expected_cost is not None else UNSET,
        currency=currency if money else UNSET,
        question=step.question or UNSET,
        options=tuple(a.AskOption(each.symptom, each.title) for each in step.options) or UNSET,
    )


def title_of(found: kb.Advice, trade: Trade) -> str:
    """The title of the test or cause the next step names; empty when it names none."""
    step = found.next
    if step.test:
        return _title(trade.tests, step.test)
    own = next((cause.title for cause in found.causes if cause.cause == step.cause), "")
    return own or _title(trade.causes, step.cause or "")


def _title(table: Mapping[str, object], name: str) -> str:
    return str(getattr(table.get(name), "title", ""))


def judged(row: kb.Judged) -> a.Judged:
    """A judged reading."""
    band = row.expected
    return a.Judged(
        quantity=row.reading.quantity,
        value=row.reading.value,
        unit=row.reading.unit,
        point=row.reading.point,
        expected=a.Expected(band.low, band.high, band.unit) if band else None,
        verdict=row.verdict,
        good=row.good,
        why=row.why,
        source=row.source,
        needs=row.needs,
        meant=tuple(a.Meant(each.value, each.unit) for each in row.meant),
        of=row.of,
    )


def heard(chances: Mapping[str, float], trade: Trade) -> tuple[a.HeardSymptom, ...]:
    """Listed symptoms heard in the words, with their titles and chances."""
    return tuple(a.HeardSymptom(name, _title(trade.symptoms, name), sure) for name, sure in chances.items())
