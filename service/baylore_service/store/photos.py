"""The bytes of photos, always of one shop."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sqlalchemy import delete, func, insert, select, update

from baylore_service.store import changes
from baylore_service.store.among import among
from baylore_service.store.records import CaseFile, PhotoBlob
from baylore_service.store.tables import photos
from baylore_service.store.work import Work


def add(work: Work, shop_id: str, blob: PhotoBlob) -> None:
    """Keep the bytes of a photo."""
    row = {"shop_id": shop_id, "id": blob.photo.id, "case_id": blob.case_id}
    work.connection.execute(insert(photos), {**row, "type": blob.photo.type, "data": blob.data})


def has_room(work: Work, shop_id: str, *, most: int) -> bool:
    """Whether a shop keeps fewer photos than so many."""
    # Each photo came with a change of its own, and the number of changes is known without counting.
    return changes.latest(work, shop_id) < most or _count(work, shop_id) < most


def _count(work: Work, shop_id: str) -> int:
    query = select(func.count()).select_from(photos).where(photos.c.shop_id == shop_id)
    return work.connection.execute(query).scalar_one()


def owner(work: Work, shop_id: str, photo_id: str) -> str | None:
    """The case a photo belongs to, None where there is no such photo."""
    query = select(photos.c.case_id).where(photos.c.shop_id == shop_id, photos.c.id == photo_id)
    return work.connection.execute(query).scalar()


def get(work: Work, shop_id: str, case_id: str, photo_id: str) -> tuple[str, bytes] | None:
    """Media type and bytes of a photo of this case, None where there is none."""
    query = select(photos.c.type, photos.c.data).where(
        photos.c.shop_id == shop_id, photos.c.case_id == case_id, photos.c.id == photo_id
    )
    row = work.connection.execute(query).one_or_none()
    return None if row is None else (row.type, row.data)


def of_case(work: Work, shop_id: str, file: CaseFile) -> Iterator[PhotoBlob]:
    """The photos of a case one after the other, those whose bytes are there."""
    for photo in file.photos:
        found = get(work, shop_id, file.id, photo.id)
        if found is not None:
            yield PhotoBlob(file.id, photo, found[1])


def remove(work: Work, shop_id: str, photo_id: str) -> None:
    """Drop a photo."""
    work.connection.execute(delete(photos).where(photos.c.shop_id == shop_id, photos.c.id == photo_id))


def move(work: Work, shop_id: str, photo_ids: Iterable[str], *, to: str) -> None:
    """Give photos to another case of the shop."""
    these = update(photos).where(photos.c.shop_id == shop_id, among(photos.c.id, photo_ids))
    work.connection.execute(these.values(case_id=to))


def sizes(work: Work, shop_id: str) -> dict[tuple[str, str], int]:
    """Bytes of each photo by (case id, photo id)."""
    query = select(photos.c.case_id, photos.c.id, func.length(photos.c.data).label("size"))
    rows = work.connection.execute(query.where(photos.c.shop_id == shop_id))
    return {(row.case_id, row.id): row.size for row in rows}
