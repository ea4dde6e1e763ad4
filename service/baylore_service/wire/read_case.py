"""From what was sent about a case to what the desk takes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any, Protocol, TypeVar
from uuid import UUID

from msgspec import UNSET

from baylore_kb import values as kb
from baylore_service.store.records import CaseDraft, Closing, New, OwnCause, Reopening
from baylore_service.wire import cases as c
from baylore_service.wire import complaint as wc
from baylore_service.wire import known, read
from baylore_service.wire import values as w
from baylore_service.wire.patch import given_fields
from baylore_service.wire.read import Reader

T = TypeVar("T")
EMPTY_CAR = w.Vehicle()
# Of a vehicle: what the service knows from the rest of it.
WORKED_OUT = frozenset(("from_vin", "vin_says"))
EMPTY_LABOUR = w.Labour()


def draft(sent: wc.CaseDraft, reader: Reader) -> CaseDraft:
    """A case to open."""
    return CaseDraft(
        complaint_text=read.text_of(sent.complaint, field="complaint"),
        id=str(sent.id) if sent.id else None,
        vehicle=reader.vehicle(sent.vehicle),
        symptoms=reader.symptoms(sent.symptoms),
        codes=read.codes(sent.codes),
        comes_and_goes=sent.comes_and_goes,
        shows_when=read.shows_when(sent.shows_when),
        as_typed=sent.as_typed,
        readings=numbered(reader.readings(sent.readings), sent.readings),
        tests=numbered(reader.tests(sent.tests), sent.tests),
        parts=numbered(reader.parts(sent.parts), sent.parts),
        repairs=numbered(reader.repairs(sent.repairs), sent.repairs),
        skipped=numbered(reader.skips(sent.skipped), sent.skipped),
        objections=numbered(reader.objections(sent.objections), sent.objections),
        note=sent.note.strip(),
        opened=known.not_in_future(sent.opened, reader.now, field="opened"),
    )


class Named(Protocol):
    """A step as it was sent."""

    @property
    def id(self) -> UUID | None:
        """The id the client made for it."""


def numbered(values: Iterable[T], sent: Sequence[Named]) -> tuple[New[T], ...]:
    """Steps with the ids the client made for them."""
    ids = (str(each.id) if each.id else None for each in sent)
    return tuple(New(value, step_id) for value, step_id in zip(values, ids, strict=True))


def car_changes(patch: c.VehiclePatch, reader: Reader) -> dict[str, Any]:
    """The fields of a vehicle that a patch changes; null empties one."""
    given = {name: value for name, value in given_fields(patch).items() if name not in WORKED_OUT}
    sent = {name: getattr(EMPTY_CAR, name) if value is None else value for name, value in given.items()}
    parsed = reader.vehicle(w.Vehicle(**sent))
    return {name: getattr(parsed, name) for name in given}


def labour_changes(patch: c.LabourPatch) -> dict[str, Any]:
    """The fields of the labour that a patch changes; null sets one back."""
    return {
        name: getattr(EMPTY_LABOUR, name) if value is None else value
        for name, value in given_fields(patch).items()
    }


def changes(sent: c.CasePatch, reader: Reader) -> dict[str, Any]:
    """The fields of a case that a patch changes, with their new values."""
    given = given_fields(sent)
    plain = ("note", "title", "cause_title", "verification")
    found: dict[str, Any] = {name: given[name] or "" for name in plain if name in given}
    if sent.complaint is not UNSET:
        found["complaint_text"] = read.text_of(sent.complaint, field="complaint")
    if "comes_and_goes" in given:
        found["comes_and_goes"] = bool(given["comes_and_goes"])
    if sent.as_typed is not UNSET:
        found["as_typed"] = sent.as_typed or ()
    if sent.shows_when is not UNSET:
        found["shows_when"] = read.shows_when(sent.shows_when or ())
    if sent.vehicle is not UNSET:
        found["vehicle"] = car_changes(sent.vehicle, reader) if sent.vehicle else kb.Vehicle()
    if sent.labour is not UNSET:
        found["labour"] = labour_changes(sent.labour) if sent.labour else kb.Labour()
    return found | _listed_changes(sent, reader)


def _listed_changes(sent: c.CasePatch, reader: Reader) -> dict[str, Any]:
    """Changes that name things of the trade lists."""
    found: dict[str, Any] = {}
    if sent.symptoms is not UNSET:
        found["symptoms"] = reader.symptoms(sent.symptoms or ())
    if sent.codes is not UNSET:
        found["codes"] = read.codes(sent.codes or ())
    if sent.correction is not UNSET:
        found["correction"] = reader.correction(sent.correction)
    if sent.cause is not UNSET:
        found["cause"] = sent.cause and known.cause_of(sent.cause, reader.trade, field="cause")
    return found


def noted(sent: c.PartPatch | c.RepairPatch | c.TestPatch) -> dict[str, Any]:
    """What is corrected of a step with a note."""
    given = given_fields(sent)
    return given | ({"note": given["note"] or ""} if "note" in given else {})


def test_changes(sent: c.TestPatch, reader: Reader) -> dict[str, Any]:
    """What is corrected of a test; whether it can show the outcome, the desk knows."""
    found = noted(sent)
    if sent.part is not UNSET and sent.part:
        found["part"] = known.cause_of(sent.part, reader.trade, field="part")
    return found


def reading_changes(sent: c.ReadingPatch, reader: Reader) -> dict[str, Any]:
    """What is corrected of a reading; whether it has the unit, the desk knows."""
    found = given_fields(sent)
    if sent.conditions is not UNSET:
        found["conditions"] = reader.conditions(sent.conditions or {}, field="conditions")
    return found | ({"point": found["point"] or ""} if "point" in found else {})


def closing(sent: c.Closing, reader: Reader) -> Closing:
    """How a case ended; a cause or a reason must be there."""
    check_one_ending(sent)
    after = tuple(replace(each, when="after") for each in reader.readings(sent.readings))
    return Closing(
        cause=known.cause_of(sent.cause, reader.trade, field="cause") if sent.cause else None,
        own_cause=own_cause(sent.own_cause, reader),
        unresolved=sent.unresolved,
        correction=reader.correction(sent.correction),
        confirmed_by=sent.confirmed_by and reader.test_id(sent.confirmed_by, field="confirmed_by"),
        verification=sent.verification.strip(),
        verified=sent.verified,
        readings=numbered(after, sent.readings),
        labour=read.labour(sent.labour) if sent.labour else None,
        other_cost=sent.other_cost,
        note=sent.note.strip(),
        title=sent.title.strip(),
    )


def check_one_ending(sent: c.Closing) -> None:
    """Raises BadValue unless exactly one of the three endings is given."""
    endings = [name for name in ("cause", "own_cause", "unresolved") if getattr(sent, name) is not None]
    if not endings:
        known.refuse(
            "a case is closed with its cause",
            field="cause",
            remedy="give a listed `cause`, an `own_cause` in your words, or say `unresolved` with the reason",
        )
    if len(endings) > 1:
        known.refuse(
            f"{' and '.join(endings)} exclude each other", field=endings[1], remedy="give one of them"
        )


def own_cause(sent: c.OwnCause | None, reader: Reader) -> OwnCause | None:
    """A cause in the shop's own words, with its place where it is known."""
    if sent is None:
        return None
    if sent.system:
        known.listed(sent.system, reader.trade.systems, field="own_cause.system", what="system")
    if sent.component:
        reader.component(sent.component, field="own_cause.component")
    title = read.text_of(sent.title, field="own_cause.title")
    return OwnCause(title=title, system=sent.system, component=sent.component)


def reopening(sent: c.Reopening, reader: Reader) -> Reopening:
    """What a car came back with; of its vehicle only what changed."""
    return Reopening(
        complaint_text=read.text_of(sent.complaint, field="complaint") if sent.complaint else None,
        vehicle=car_changes(sent.vehicle, reader) if sent.vehicle else None,
        note=sent.note.strip(),
        id=str(sent.id) if sent.id else None,
    )
