"""A start uses the saved index where it can, and reads the cases anew where it cannot."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from unittest.mock import patch

from tests.service.house_fixtures import DROP, Clock, a_case

from baylore_kb.casedoc import Reader
from baylore_kb.index import Snapshot
from baylore_service.desk import cases, steps
from baylore_service.desk.advise import advise_case
from baylore_service.desk.facets import facets_of
from baylore_service.desk.house import House
from baylore_service.index_files import IndexFiles
from baylore_service.store import cases as kept
from baylore_service.store.records import Actor, CaseFile


def again(house: House) -> House:
    """The same store opened by a process that starts."""
    return House.open(house.settings)


def saved_file(house: House) -> Path:
    return next((house.settings.data / "index").glob("*.index"))


def test_a_start_from_the_saved_index_reads_no_case_and_answers_alike(
    house: House, tech: Actor, closed: CaseFile
) -> None:
    before = advise_case(house, tech, closed.id)
    house.hosts.save()
    with patch.object(Reader, "read", side_effect=AssertionError("a case was read anew")):
        started = again(house)
        snapshot = started.hosts.snapshot(tech.shop.id)
    assert snapshot.cases.keys() == {closed.id}
    assert advise_case(started, tech, closed.id) == before


def test_what_changed_since_is_read_anew(house: House, boss: Actor, tech: Actor, closed: CaseFile) -> None:
    gone = a_case(house, boss)
    house.hosts.snapshot(tech.shop.id)
    house.hosts.save()
    steps.add_test(house, tech, closed.id, DROP)
    cases.delete_case(house, boss, gone.id, expected_revision=None)
    host = again(house).hosts.host(tech.shop.id)
    assert host.snapshot().cases.keys() == {closed.id}
    assert len(host.snapshot().cases[closed.id].complaint.tests) == 1
    assert host.snapshot().doc(closed.id).facets == host.rebuilt().doc(closed.id).facets


def test_what_was_saved_of_a_time_that_is_gone_is_read_anew(
    house: House, tech: Actor, closed: CaseFile, clock: Clock
) -> None:
    """A store put back gives the numbers of the lost changes once more."""
    cases.amend_case(house, tech, closed.id, {"complaint_text": "rattles downhill"}, expected_revision=None)
    house.hosts.snapshot(tech.shop.id)
    house.hosts.save()
    with house.store.write(tech.shop.id) as work:
        lost = kept.get(work, tech.shop.id, closed.id)
        assert lost is not None
        now = replace(lost, complaint_text="squeals uphill", title="squeals", updated=clock())
        kept.put(work, tech.shop.id, now, facets_of(now, house.trade, house.spotter))
    snapshot = again(house).hosts.snapshot(tech.shop.id)
    read = {snapshot.reader.book.terms[number] for number in snapshot.doc(closed.id).words}
    assert "uphill" in read and "downhill" not in read


def test_a_damaged_or_foreign_file_only_costs_the_start_some_time(
    house: House, tech: Actor, closed: CaseFile
) -> None:
    house.hosts.snapshot(tech.shop.id)
    house.hosts.save()
    whole = saved_file(house).read_bytes()
    for broken in (whole[:-1], whole[:-9] + b"\0" * 9, b"", b"another file altogether"):
        saved_file(house).write_bytes(broken)
        with patch.object(Snapshot, "build", wraps=Snapshot.build) as build:
            assert again(house).hosts.snapshot(tech.shop.id).cases.keys() == {closed.id}
        assert build.call_count == 1


def test_an_index_is_saved_once_for_many_looks_and_not_for_few_changes(
    house: House, tech: Actor, closed: CaseFile
) -> None:
    house.hosts.snapshot(tech.shop.id)
    with patch.object(IndexFiles, "write", return_value=True) as write:
        house.hosts.tidy()
        assert write.call_count == 0
        house.hosts.save()
        house.hosts.save()
        assert write.call_count == 1


def test_a_folder_that_cannot_be_written_is_passed_over(tmp_path: Path) -> None:
    in_the_way = tmp_path / "file"
    in_the_way.write_text("no folder")
    files = IndexFiles(in_the_way / "index")
    assert files.write("shop", [b"data"]) is False and files.read("shop") is None
    assert IndexFiles(None).write("shop", [b"data"]) is False


def test_joining_keeps_the_answers_and_gives_way_to_a_change(
    house: House, boss: Actor, tech: Actor, closed: CaseFile
) -> None:
    host = house.hosts.host(tech.shop.id)
    with patch("baylore_kb.segment.MOST_JOINED", 2):
        for n in range(24):
            a_case(house, boss, f"rattle number {n}")
            host.snapshot()
    before = host.snapshot()
    assert before.scattered
    host.join()
    assert len(host.snapshot().segments) < len(before.segments)
    assert host.snapshot().cases == before.cases and not host.snapshot().scattered
