"""How a case ends: its cause, correction, sums, verification and note."""

from __future__ import annotations

from dataclasses import dataclass, replace

from baylore_kb.trade.model import Trade
from baylore_kb.values import Labour, Reading
from baylore_service.desk import files, money, note
from baylore_service.desk.checks import known, plain, values
from baylore_service.desk.checks.file import checked
from baylore_service.desk.house import House
from baylore_service.desk.redraft import drafted
from baylore_service.errors import BadValue
from baylore_service.store import lists
from baylore_service.store.records import Actor, CaseFile, CaseFilter, Closing, ReadingStep
from baylore_service.store.work import Work

GIVEN = ("cause_title", "cause_system", "correction", "confirmed_by", "verification", "labour")


@dataclass(frozen=True, slots=True)
class Verdict:
    """The cause of a closed case with its words and system; no cause for an unresolved one."""

    cause: str | None = None
    title: str = ""
    system: str | None = None


def ended(house: House, work: Work, actor: Actor, file: CaseFile, *, closing: Closing) -> CaseFile:
    """The case as it is once closed. Raises BadValue naming the field."""
    verdict = verdict_of(house, work, actor, closing)
    now = house.now()
    closed = replace(
        _with_readings(house, actor, file, closing),
        state="closed" if verdict.cause else "unresolved",
        closed=max(now, file.opened),
        cause=verdict.cause,
        cause_title=verdict.title,
        cause_system=verdict.system,
        unresolved_reason=closing.unresolved,
        correction=closing.correction or file.correction,
        confirmed_by=closing.confirmed_by or file.confirmed_by,
        verification=closing.verification or file.verification,
        labour=_labour(actor, file, closing.labour),
    )
    closed = checked(closed, house.trade_of(actor), now, only=GIVEN)
    return _written(
        house, actor, file, after=_paid(actor, _verified(closed, closing), closing), closing=closing
    )


def verdict_of(house: House, work: Work, actor: Actor, closing: Closing) -> Verdict:
    """What it was. Raises BadValue unless exactly one ending is given and its cause is known."""
    given = [name for name in ("cause", "own_cause", "unresolved") if getattr(closing, name)]
    if len(given) > 1:
        plain.refuse(f"{' and '.join(given)} exclude each other", field=given[1], remedy="give one of them")
    if closing.unresolved:
        return Verdict()
    if closing.own_cause is not None:
        return _own(house.trade_of(actor), closing)
    if not closing.cause:
        plain.refuse(
            "a case is closed with its cause",
            field="cause",
            remedy="give a listed `cause`, an `own_cause` in your words, or say `unresolved` with the reason",
        )
    return _listed(house, work, actor, closing.cause)


def says_the_same(file: CaseFile, closing: Closing) -> bool:
    """Whether a closing holds nothing that the closed case does not say already."""
    own = closing.own_cause and known.own_cause_id(closing.own_cause.title)
    pairs = [
        ((closing.cause or own), file.cause),
        (closing.unresolved, file.unresolved_reason),
        *_said_of(file, closing),
        *(((closing.verified, file.verified),) if closing.verified is not None else ()),
    ]
    there = [step.reading for step in file.readings]
    measured = all(_after(new.value) in there for new in closing.readings)
    return measured and all(given == kept for given, kept in pairs) and _same_labour(file, closing.labour)


def _said_of(file: CaseFile, closing: Closing) -> list[tuple[object, object]]:
    """What a closing says beside its ending, with what the case says there."""
    names = ("correction", "confirmed_by", "verification", "note", "title")
    said = [(getattr(closing, name), getattr(file, name)) for name in names if getattr(closing, name)]
    return [*said, *([(closing.other_cost, file.cost.other)] if closing.other_cost else [])]


def _same_labour(file: CaseFile, given: Labour | None) -> bool:
    if given is None:
        return True
    kept = file.labour
    return money.with_defaults(given, tested_min=kept.diagnosis_min, rate=kept.rate_per_hour or 0.0) == kept


def _own(trade: Trade, closing: Closing) -> Verdict:
    """A cause in the shop's own words; its component, or its entry, tells the system where it is not said."""
    own = closing.own_cause
    if own is None:
        return Verdict()
    if own.system:
        known.listed(own.system, trade.systems, field="own_cause.system", what="system")
    if own.component:
        known.listed(own.component, trade.components, field="own_cause.component", what="component")
    id = known.own_cause_id(own.title)
    entry = trade.causes.get(id)
    listed = trade.components[own.component] if own.component else entry
    return Verdict(id, own.title.strip(), own.system or (listed.system if listed else None))


def _listed(house: House, work: Work, actor: Actor, cause: str) -> Verdict:
    """A cause of the shop's lists, or one the shop has closed a case with before."""
    trade = house.trade_of(actor)
    known.cause(cause, trade, field="cause")
    if cause in trade.causes:
        found = trade.causes[cause]
        return Verdict(cause, found.title, found.system)
    before = lists.page(work, actor.shop.id, CaseFilter(cause=cause), after=None, limit=1)
    if not before:
        raise BadValue(
            f"cause: this shop has no cause {cause[:80]!r} of its own",
            field="cause",
            remedy="give it as `own_cause` with its title",
        )
    return Verdict(cause, before[0].cause_title, before[0].cause_system)


def _with_readings(house: House, actor: Actor, file: CaseFile, closing: Closing) -> CaseFile:
    """The case with the readings taken afterwards; one that is there already is not taken twice."""
    there = {step.stamp.id for step in file.readings}
    fresh = []
    for at, new in enumerate(closing.readings):
        values.reading(new.value, house.trade_of(actor), field=f"readings[{at}]")
        if new.id not in there:
            fresh.append(ReadingStep(files.stamp(house, actor, new.id), _after(new.value)))
    return replace(file, readings=(*file.readings, *fresh))


def _after(reading: Reading) -> Reading:
    """A reading of a closing is one taken afterwards."""
    return replace(reading, when="after")


def _labour(actor: Actor, file: CaseFile, given: Labour | None) -> Labour:
    tested = sum(step.test.minutes or 0.0 for step in file.tests)
    kept = file.labour
    if file.state == "unresolved":
        kept = replace(kept, diagnosis_min=max(kept.diagnosis_min, tested))
    return money.with_defaults(given or kept, tested_min=tested, rate=actor.shop.rate_per_hour)


def _verified(file: CaseFile, closing: Closing) -> CaseFile:
    """The case with its verification judged: said so, else proved by a reading or told in words."""
    shown = any(step.reading.when == "after" for step in file.readings) or bool(file.verification)
    proved = shown and file.state == "closed" and not file.returned_as
    return replace(file, verified=proved if closing.verified is None else closing.verified)


def _paid(actor: Actor, file: CaseFile, closing: Closing) -> CaseFile:
    other = plain.money(closing.other_cost or file.cost.other, field="other_cost")
    cost = money.with_other(file.cost, other=other, currency=actor.shop.currency)
    return money.summed(replace(file, cost=cost))


def _written(house: House, actor: Actor, before: CaseFile, *, after: CaseFile, closing: Closing) -> CaseFile:
    """The case with its title and note; drafted where none is given."""
    trade = house.trade_of(actor)
    was_drafted = after.title in ("", note.title(before))
    title = closing.title.strip() or (note.title(after) if was_drafted else after.title)
    text = closing.note.strip() or drafted(after, trade)
    return checked(replace(after, title=title, note=text), trade, house.now(), only=("title", "note"))
