"""Photos of a case."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.service.house_fixtures import DROP, PNG, a_case, a_file, keyed

from baylore_service.desk import cases, feed, photos, steps
from baylore_service.desk.house import House
from baylore_service.errors import AlreadyThere, BadValue, NotFound, TooLarge
from baylore_service.store import photos as stored
from baylore_service.store.records import Actor, CaseFile

KIND = "image/png"


def added(house: House, actor: Actor, file: CaseFile, **fields: object) -> CaseFile:
    """The case with one photo more."""
    return a_file(photos.add_photo(house, actor, file.id, **{"type": KIND, "data": PNG} | fields))  # type: ignore[arg-type]


def test_a_photo_comes_back_byte_by_byte(house: House, tech: Actor, opened: CaseFile) -> None:
    steps.add_test(house, tech, opened.id, DROP, step_id="t")
    photo = added(house, tech, opened, step="t", note="green lug").photos[0]
    assert (photo.bytes, photo.note, photo.step, photo.by) == (len(PNG), "green lug", "t", "Ivo")
    assert photos.get_photo(house, tech, opened.id, photo.id) == (KIND, PNG)


def test_the_same_photo_again_is_one_photo(house: House, tech: Actor, opened: CaseFile) -> None:
    first = added(house, tech, opened, photo_id="p")
    assert added(house, tech, opened, photo_id="p") == first
    with pytest.raises(AlreadyThere):
        added(house, tech, opened, photo_id="p", data=PNG + b"x")
    with pytest.raises(AlreadyThere):
        added(house, tech, a_case(house, tech), photo_id="p")


def test_a_photo_sent_twice_under_its_key_is_kept_once(house: House, tech: Actor, opened: CaseFile) -> None:
    for _ in range(2):
        photos.add_photo(house, tech, opened.id, type=KIND, data=PNG, receipt=keyed("k"))
    assert len(cases.get_case(house, tech, opened.id).photos) == 1


@pytest.mark.parametrize(
    ("kind", "data"),
    [(KIND, b"GIF89a"), ("image/jpeg", PNG), ("image/svg+xml", b"<svg/>"), (KIND, b""), ("text/html", PNG)],
)
def test_only_pictures_of_their_own_kind_are_taken(
    house: House, tech: Actor, opened: CaseFile, kind: str, data: bytes
) -> None:
    with pytest.raises(BadValue) as refused:
        added(house, tech, opened, type=kind, data=data)
    assert refused.value.field == "type"


def test_a_shop_keeps_no_more_photos_than_it_may(
    house: House, tech: Actor, stranger: Actor, opened: CaseFile
) -> None:
    house.settings = replace(house.settings, max_photos=2)
    added(house, stranger, a_case(house, stranger))
    added(house, tech, opened)
    added(house, tech, a_case(house, tech), photo_id="second")
    with pytest.raises(BadValue, match="keeps 2 photos already"):
        added(house, tech, opened, photo_id="third")
    assert len(cases.get_case(house, tech, opened.id).photos) == 1


def test_each_photo_is_a_change_of_its_own_so_changes_bound_the_photos(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    before = feed.revision(house, tech)
    for name in ("first", "second", "third"):
        added(house, tech, opened, photo_id=name)
    assert feed.revision(house, tech) == before + 3


def test_a_photo_beyond_the_limit_is_refused_with_the_limit(
    house: House, tech: Actor, opened: CaseFile
) -> None:
    small = House.open(replace(house.settings, max_photo_bytes=50), clock=house.now)
    with pytest.raises(TooLarge, match=f"{len(PNG)}") as refused:
        added(small, tech, opened)
    assert "50 bytes" in refused.value.remedy
    small.close()


def test_a_photo_needs_its_case_and_its_step(
    house: House, tech: Actor, stranger: Actor, opened: CaseFile
) -> None:
    photo = added(house, tech, opened).photos[0]
    with pytest.raises(NotFound, match="step"):
        added(house, tech, opened, step="nowhere")
    with pytest.raises(NotFound, match="case"):
        added(house, stranger, opened)
    with pytest.raises(NotFound, match="photo"):
        photos.get_photo(house, stranger, opened.id, photo.id)
    with pytest.raises(NotFound, match="photo"):
        photos.get_photo(house, tech, a_case(house, tech).id, photo.id)


def test_an_undone_step_leaves_its_photo_with_the_case(house: House, tech: Actor, opened: CaseFile) -> None:
    steps.add_test(house, tech, opened.id, DROP, step_id="t")
    added(house, tech, opened, step="t")
    file = a_file(steps.remove_step(house, tech, opened.id, "t"))
    assert [photo.step for photo in file.photos] == [None]


def test_an_undone_photo_and_a_deleted_case_leave_no_bytes(
    house: House, boss: Actor, opened: CaseFile
) -> None:
    photo = added(house, boss, opened).photos[0]
    steps.remove_step(house, boss, opened.id, photo.id)
    added(house, boss, opened)
    cases.delete_case(house, boss, opened.id, expected_revision=None)
    with house.store.read() as work:
        assert stored.sizes(work, boss.shop.id) == {}
