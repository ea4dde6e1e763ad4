"""What one record of a visit lacks that another says, put in and taken out again; pure."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields, replace
from typing import Any

from baylore_kb.values import Labour, Vehicle
from baylore_service.desk.checks.file import MOST_CODES, MOST_STEPS, MOST_WHEN
from baylore_service.desk.checks.plain import refuse
from baylore_service.desk.note import MOST_NOTE
from baylore_service.desk.photos import MOST_PHOTOS
from baylore_service.desk.stepkinds import KINDS, StepKind, each_kind
from baylore_service.desk.wording import flat
from baylore_service.store.drafts import own_words
from baylore_service.store.records import CaseFile, Photo, Taken

BESIDE = "From the other record:"
LISTS = ("codes", "symptoms", "shows_when")
# Taken over only where the case says nothing there; the last four only of a record that was closed alike.
PLAIN = ("comes_and_goes", "labour")
ENDING = ("correction", "confirmed_by", "verification", "verified")
VEHICLE = tuple(field.name for field in fields(Vehicle) if field.name != "from_vin")
MOST = {"codes": MOST_CODES, "symptoms": MOST_CODES, "shows_when": MOST_WHEN}


def lacking(file: CaseFile, other: CaseFile) -> Taken:
    """What the other says that the case does not."""
    lists = {name: _more(getattr(file, name), getattr(other, name)) for name in LISTS}
    ending = ENDING if file.cause is not None and file.cause == other.cause else ()
    return Taken(
        steps=tuple(step.stamp.id for kind in KINDS for step in _more_steps(kind, file, other)),
        photos=tuple(photo.id for photo in other.photos),
        vehicle=_unsaid(file.vehicle, other.vehicle, VEHICLE),
        fields=_unsaid(file, other, (*PLAIN, *ending)),
        note=bool(_own(other)) and flat(_own(other)) not in flat(file.note),
        **lists,
    )


def put_in(file: CaseFile, other: CaseFile, taken: Taken) -> CaseFile:
    """The case with what it lacked. Raises BadValue where it would hold too much."""
    after = each_kind(
        file,
        lambda kind, steps: (*steps, *(step for step in kind.of(other) if step.stamp.id in taken.steps)),
        photos=(*file.photos, *(_moved(photo, other, file) for photo in other.photos)),
        vehicle=_filled(file.vehicle, other.vehicle, taken.vehicle),
        note=f"{file.note}\n\n{BESIDE} {_own(other)}".strip() if taken.note else file.note,
        **{name: (*getattr(file, name), *getattr(taken, name)) for name in LISTS},
        **{name: getattr(other, name) for name in taken.fields},
    )
    _check_size(after)
    return after


def taken_out(file: CaseFile, other: CaseFile, taken: Taken) -> CaseFile:
    """The case without what it took of the other, as far as that stands as it was taken."""
    lent = {photo.id for photo in file.photos} & set(taken.photos)
    after = each_kind(
        file,
        lambda kind, steps: tuple(step for step in steps if step.stamp.id not in taken.steps),
        photos=tuple(photo for photo in file.photos if photo.id not in lent),
        vehicle=_emptied(file.vehicle, other.vehicle, taken.vehicle),
        note=_without_note(file.note, _own(other)) if taken.note else file.note,
        **{name: _less(getattr(file, name), getattr(taken, name)) for name in LISTS},
    )
    standing = [name for name in (*PLAIN, *ENDING) if name in taken.fields and _stands(file, other, name)]
    return replace(after, **{name: _nothing(file, name) for name in standing})


def photos_back(file: CaseFile, other: CaseFile, taken: Taken) -> tuple[Photo, ...]:
    """The other's photos among those of the case, as the other names them."""
    return tuple(_moved(photo, file, other) for photo in file.photos if photo.id in taken.photos)


def _nothing(file: CaseFile, name: str) -> Any:
    """What a field says where nothing is said; the rate of a shop stays."""
    if name == "labour":
        return Labour(rate_per_hour=file.labour.rate_per_hour)
    return next(field.default for field in fields(CaseFile) if field.name == name)


def _more(mine: Iterable[Any], theirs: Iterable[Any]) -> tuple[Any, ...]:
    said = set(mine)
    return tuple(each for each in dict.fromkeys(theirs) if each not in said)


def _less(mine: Iterable[Any], taken: Iterable[Any]) -> tuple[Any, ...]:
    gone = set(taken)
    return tuple(each for each in mine if each not in gone)


def _more_steps(kind: StepKind, file: CaseFile, other: CaseFile) -> list[Any]:
    said = {_says(step) for step in kind.of(file)}
    return [step for step in kind.of(other) if _says(step) not in said]


def _says(step: Any) -> str:
    """What a step says, whoever wrote it when."""
    return repr(replace(step, stamp=None))


def _unsaid(mine: object, theirs: object, names: Iterable[str]) -> tuple[str, ...]:
    """The fields that are empty here and not there."""
    return tuple(name for name in names if _is_empty(mine, name) and not _is_empty(theirs, name))


def _is_empty(holder: object, name: str) -> bool:
    value = getattr(holder, name)
    if isinstance(value, Labour):
        return not (value.diagnosis_min or value.repair_min or value.not_billed_min)
    return not value


def _filled(car: Vehicle, other: Vehicle, names: tuple[str, ...]) -> Vehicle:
    read = car.from_vin | (other.from_vin & set(names))
    changed: dict[str, Any] = {name: getattr(other, name) for name in names}
    return replace(car, **changed, from_vin=read) if changed else car


def _emptied(car: Vehicle, other: Vehicle, names: tuple[str, ...]) -> Vehicle:
    """The car without the fields that stand as they were taken."""
    nothing = Vehicle()
    standing = [name for name in names if name in VEHICLE and _stands(car, other, name)]
    changed: dict[str, Any] = {name: getattr(nothing, name) for name in standing}
    return replace(car, **changed, from_vin=car.from_vin - set(standing)) if changed else car


def _stands(here: object, there: object, name: str) -> bool:
    return bool(getattr(here, name) == getattr(there, name))


def _moved(photo: Photo, source: CaseFile, goal: CaseFile) -> Photo:
    """The photo with the step it shows as the goal has it, under whatever id."""
    shown = next((_says(step) for step in source.steps if step.stamp.id == photo.step), None)
    step = next((each.stamp.id for each in goal.steps if _says(each) == shown), photo.step)
    return replace(photo, step=step)


def _own(file: CaseFile) -> str:
    return own_words(file.note).strip()


def _without_note(note: str, theirs: str) -> str:
    """The note without the other's; one that was worded anew since stays as it is."""
    for piece in (f"{BESIDE} {theirs}", f"{BESIDE} {flat(theirs)}", f"{BESIDE} {flat(theirs).rstrip('.;')}"):
        if piece in note:
            return note.replace(piece, "").strip()
    return note


def _check_size(file: CaseFile) -> None:
    """Raises BadValue for a case that holds more than one may."""
    counts = [(kind.field, len(kind.of(file)), MOST_STEPS) for kind in KINDS]
    counts += [(name, len(getattr(file, name)), most) for name, most in MOST.items()]
    counts += [("photos", len(file.photos), MOST_PHOTOS), ("note", len(file.note), MOST_NOTE)]
    for name, count, most in counts:
        if count > most:
            refuse(
                f"together they have {count} {name}", field="other", remedy=f"leave at most {most} in both"
            )
