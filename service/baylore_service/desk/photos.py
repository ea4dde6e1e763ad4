"""Photos of a case: JPEG, PNG or WebP, known by their first bytes."""

from __future__ import annotations

from dataclasses import replace

from baylore_service.desk import files
from baylore_service.desk.checks import plain
from baylore_service.desk.house import House
from baylore_service.desk.once import once
from baylore_service.desk.pictures import kind_of, size_of, trimmed
from baylore_service.errors import AlreadyThere, NotFound, TooLarge
from baylore_service.store import photos
from baylore_service.store.records import Actor, CaseFile, Kept, Photo, PhotoBlob, Receipt
from baylore_service.store.work import Work

KINDS = ("image/jpeg", "image/png", "image/webp")
MOST_PHOTOS = 100
MOST_SIDE, MOST_PIXELS = 16_384, 50_000_000


def add_photo(
    house: House,
    actor: Actor,
    case_id: str,
    *,
    type: str,
    data: bytes,
    step: str | None = None,
    note: str = "",
    photo_id: str | None = None,
    receipt: Receipt | None = None,
) -> CaseFile | Kept:
    """Keep a photo; the same id and bytes again change nothing.

    Raises NotFound (case, step), BadValue (kind of picture), TooLarge, AlreadyThere.
    """
    mark = files.stamp(house, actor, photo_id)
    data = trimmed(data)
    photo = Photo(mark.id, type, len(data), note, step, mark.at, mark.by)
    blob = checked(PhotoBlob(case_id, photo, data), most=house.settings.max_photo_bytes)
    return once(house, actor, receipt, lambda work: _kept(house, work, actor, blob))


def get_photo(house: House, actor: Actor, case_id: str, photo_id: str) -> tuple[str, bytes]:
    """Media type and bytes of a photo. Raises NotFound."""
    with house.store.read() as work:
        found = photos.get(work, actor.shop.id, case_id, photo_id)
    if found is None:
        raise NotFound("photo", photo_id, remedy="read the case for its photos")
    return found


def checked(blob: PhotoBlob, *, most: int) -> PhotoBlob:
    """The photo when it is what it says it is. Raises BadValue, TooLarge."""
    plain.text(blob.photo.note, most=plain.SHORT, field="note")
    if len(blob.data) > most:
        raise TooLarge(
            f"the photo has {len(blob.data):,} bytes", field="data", remedy=f"send at most {most:,} bytes"
        )
    if blob.photo.type not in KINDS or kind_of(blob.data) != blob.photo.type:
        plain.refuse(
            f"the bytes are no picture of kind {blob.photo.type[:40]!r}",
            field="type",
            remedy=f"send {', '.join(KINDS)} by its own name",
        )
    _sized(size_of(blob.data))
    return blob


def _sized(size: tuple[int, int] | None) -> None:
    """Raises BadValue for a picture that does not say its size, or would fill a phone's memory unpacked."""
    if size is None:
        plain.refuse("the picture does not say how large it is", field="data", remedy="take it again")
    if max(size) > MOST_SIDE or size[0] * size[1] > MOST_PIXELS:
        plain.refuse(
            f"the picture has {size[0]} x {size[1]} pixels",
            field="data",
            remedy=f"send at most {MOST_PIXELS:,} pixels, and {MOST_SIDE:,} a side",
        )


def attach(work: Work, shop_id: str, file: CaseFile, blob: PhotoBlob, *, most: int) -> CaseFile:
    """Keep the bytes; the case with its photo, itself where it has the same already.

    A shop keeps at most so many. Raises AlreadyThere, BadValue.
    """
    if (owner := photos.owner(work, shop_id, blob.photo.id)) is not None:
        there = photos.get(work, shop_id, file.id, blob.photo.id)
        if owner == file.id and there == (blob.photo.type, blob.data):
            return file
        raise AlreadyThere(
            f"photo {blob.photo.id} is there already", field="id", remedy="make a new id for a new photo"
        )
    if len(file.photos) >= MOST_PHOTOS:
        plain.refuse(f"the case has {len(file.photos)} photos", field="id", remedy="undo one of them first")
    if not photos.has_room(work, shop_id, most=most):
        plain.refuse(
            f"the shop keeps {most:,} photos already",
            field="id",
            remedy="whoever runs the service can raise BAYLORE_MAX_PHOTOS",
        )
    photos.add(work, shop_id, blob)
    return replace(file, photos=(*file.photos, blob.photo))


def _kept(house: House, work: Work, actor: Actor, blob: PhotoBlob) -> CaseFile:
    file = files.find(work, actor, blob.case_id)
    steps = {step.stamp.id for step in file.steps}
    if blob.photo.step is not None and blob.photo.step not in steps:
        raise NotFound("step", blob.photo.step, remedy="read the case for the ids of its steps")
    after = attach(work, actor.shop.id, file, blob, most=house.settings.max_photos)
    return file if after is file else files.keep(house, work, actor, after)
