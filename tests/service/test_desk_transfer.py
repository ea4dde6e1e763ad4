"""The whole memory out as lines, and in again."""

from __future__ import annotations

import json
from collections.abc import Iterable
from dataclasses import asdict, replace
from typing import Any

import msgspec
import pytest
from tests.service.house_fixtures import DROP, MORNING, PNG, a_case, a_file

from baylore_kb.values import Vehicle
from baylore_service.desk import cases, close, feed, photos, steps, transfer
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.errors import BadValue, ImportRefused, WrongRole
from baylore_service.store.document import from_text, to_text
from baylore_service.store.records import Actor, CaseFile, CaseFilter, PhotoBlob, Reopening, Shop


def line_of(moved: transfer.Moved) -> bytes:
    """A line in the tests' own form."""
    if isinstance(moved, CaseFile):
        return f"case {to_text(moved)}\n".encode()
    if isinstance(moved, PhotoBlob):
        return b"photo " + msgspec.json.encode(moved) + b"\n"
    return f"shop {json.dumps(asdict(moved))}\n".encode()


def parse(line: bytes) -> transfer.Moved | None:
    """The line back again."""
    kind, _, body = line.partition(b" ")
    if kind == b"case":
        return from_text(body.decode())
    if kind == b"photo":
        return msgspec.json.decode(body, type=PhotoBlob)
    if kind == b"shop":
        return Shop(**json.loads(body))
    raise BadValue(f"kind: {kind!r}", field="kind", remedy="use case, photo or shop")


def out(house: House, actor: Actor) -> list[bytes]:
    """The memory as lines."""
    return list(transfer.export_lines(house, actor, render=line_of))


def taken(house: House, actor: Actor, lines: Iterable[bytes], **options: Any) -> tuple[int, int, int, int]:
    """What an import did: added, unchanged, updated, refused."""
    report = transfer.import_lines(house, actor, lines, parse=parse, **options)
    return report.added, report.unchanged, report.updated, report.refused


def held(house: House, actor: Actor) -> list[CaseFile]:
    """All cases without their numbers, which each shop gives itself."""
    page = cases.list_cases(house, actor, CaseFilter(), limit=100)
    return [replace(file, revision=0) for file in page.items]


@pytest.fixture
def memory(house: House, boss: Actor, closed: CaseFile) -> list[bytes]:
    """The lines of a shop with a closed case, its comeback, a photo and an open case."""
    back = a_file(close.reopen_case(house, boss, closed.id, Reopening()))
    photos.add_photo(house, boss, back.id, type="image/png", data=PNG, note="lug")
    steps.add_test(house, boss, a_case(house, boss, "no heat").id, DROP)
    return out(house, boss)


def test_a_memory_moved_to_another_shop_is_the_same_memory(
    house: House, boss: Actor, stranger: Actor, memory: list[bytes]
) -> None:
    assert taken(house, stranger, memory) == (4, 0, 0, 0)
    assert held(house, stranger) == held(house, boss) and verify(house).good
    assert [line for line in out(house, stranger) if line[:5] == b"photo"] == [
        line for line in memory if line[:5] == b"photo"
    ]


def test_the_same_file_again_changes_nothing(
    house: House, boss: Actor, stranger: Actor, memory: list[bytes]
) -> None:
    taken(house, stranger, memory)
    latest = feed.revision(house, stranger)
    assert taken(house, stranger, memory) == (0, 4, 0, 0)
    assert taken(house, boss, memory) == (0, 4, 0, 0)
    assert feed.revision(house, stranger) == latest


def test_lines_without_ids_are_not_doubled_either(house: House, boss: Actor) -> None:
    file = replace(a_case(house, boss), id="", vehicle=Vehicle(1999, "Ondrey", "Pike"))
    line = line_of(file)
    assert taken(house, boss, [line]) == (1, 0, 0, 0)
    assert taken(house, boss, [b"  " + line.strip() + b" \r\n"]) == (0, 1, 0, 0)
    assert len(held(house, boss)) == 2


def test_what_was_changed_here_meanwhile_stays(house: House, boss: Actor, opened: CaseFile) -> None:
    old = out(house, boss)
    cases.amend_case(house, boss, opened.id, {"note": "newer"}, expected_revision=None)
    assert taken(house, boss, old) == (0, 1, 0, 0)
    assert cases.get_case(house, boss, opened.id).note == "newer"


def test_what_is_newer_in_the_file_comes_in(house: House, boss: Actor, opened: CaseFile) -> None:
    newer = replace(opened, note="newer", updated=house.now())
    assert taken(house, boss, [line_of(newer)]) == (0, 0, 1, 0)
    assert cases.get_case(house, boss, opened.id).note == "newer"


def test_one_bad_line_and_nothing_is_taken(
    house: House, boss: Actor, stranger: Actor, memory: list[bytes]
) -> None:
    bad = replace(a_case(house, boss), vehicle=Vehicle(year=1903))
    before = feed.revision(house, stranger)
    with pytest.raises(ImportRefused) as refused:
        taken(house, stranger, [*memory, b"", b"rubbish\n", line_of(bad)])
    assert [(line.line, line.field) for line in refused.value.lines] == [(7, "kind"), (8, "vehicle.year")]
    assert all(line.remedy for line in refused.value.lines)
    assert feed.revision(house, stranger) == before and held(house, stranger) == []


def test_a_photo_without_its_case_takes_the_whole_file_back(
    house: House, stranger: Actor, memory: list[bytes]
) -> None:
    photo = next(line for line in memory if line[:5] == b"photo")
    others = [line for line in memory if b"no heat" in line]
    with pytest.raises(ImportRefused):
        taken(house, stranger, [*others, photo])
    assert held(house, stranger) == []


def test_a_report_takes_the_good_lines_and_names_the_others(
    house: House, stranger: Actor, memory: list[bytes]
) -> None:
    lines = [b"rubbish\n", *memory]
    assert taken(house, stranger, lines, mode="report") == (4, 0, 0, 1)
    report = transfer.import_lines(house, stranger, lines, parse=parse, mode="report")
    assert [(line.line, line.field) for line in report.lines] == [(1, "kind")]


def test_two_lines_for_one_case_are_one_too_many(house: House, boss: Actor, opened: CaseFile) -> None:
    with pytest.raises(ImportRefused) as refused:
        taken(house, boss, [line_of(opened), line_of(replace(opened, note="x"))])
    assert refused.value.lines[0].line == 2 and "line 1" in refused.value.lines[0].detail


def test_an_export_is_of_one_moment(house: House, boss: Actor, opened: CaseFile) -> None:
    lines = transfer.export_lines(house, boss, render=line_of)
    next(lines)
    a_case(house, boss, "came later")
    assert [parse(line).id for line in lines] == [opened.id]  # type: ignore[union-attr]


def test_moving_a_memory_is_the_managers_business(house: House, tech: Actor) -> None:
    with pytest.raises(WrongRole):
        out(house, tech)
    with pytest.raises(WrongRole):
        taken(house, tech, [])


def test_an_empty_file_is_fine(house: House, boss: Actor) -> None:
    assert taken(house, boss, []) == taken(house, boss, [b"", b"\n"]) == (0, 0, 0, 0)


def test_old_cases_come_in_with_their_times(house: House, boss: Actor, opened: CaseFile) -> None:
    old = replace(opened, id="old", opened=MORNING.replace(year=2019), updated=MORNING.replace(year=2020))
    taken(house, boss, [line_of(old)])
    kept = cases.get_case(house, boss, "old")
    assert (kept.opened, kept.updated) == (old.opened, old.updated)
