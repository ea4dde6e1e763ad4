"""Copies made while phones write, put back and compared case by case."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import pytest
from tests.faults.phones import Phone, phones
from tests.faults.running import Service, Starter, a_service
from tests.service.house_fixtures import CAUSE

from baylore_service import cli
from baylore_service.desk import cases, feed, members, photos, safekeeping, transfer
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store import cases as kept
from baylore_service.store.records import Actor, CaseFile
from baylore_service.wire.read import Reader
from baylore_service.wire.read_line import line_parser, own_lines

COPIES = 3
WRITES = 64


@contextmanager
def opened(settings: Settings) -> Iterator[House]:
    """A house over a store, closed after."""
    house = House.open(settings)
    yield house
    house.close()


def files_of(house: House, actor: Actor) -> dict[str, CaseFile]:
    """All cases of the shop by id."""
    with house.store.read() as work:
        return {file.id: file for file in kept.every(work, actor.shop.id)}


def pictures_of(house: House, actor: Actor, files: dict[str, CaseFile]) -> dict[str, bytes]:
    """The bytes of all photos by id."""
    named = [(file.id, photo.id) for file in files.values() for photo in file.photos]
    return {id: photos.get_photo(house, actor, case, id)[1] for case, id in named}


def copies_while_written(house: House, made: list[Phone], folder: Path) -> list[tuple[Path, int]]:
    """Copies made at moments while all phones write, each with the change that was there before it."""
    found = []
    with ThreadPoolExecutor(len(made)) as pool:
        working = [pool.submit(phone.work) for phone in made]
        for n in range(COPIES):
            time.sleep(0.1)
            before = sum(len(phone.answers) for phone in made)
            safekeeping.backup(house, folder / f"{n}.db")
            found.append((folder / f"{n}.db", before))
        for each in working:
            each.result()
    return found


def test_a_copy_made_while_phones_write_is_the_shop_of_one_moment(
    starter: Starter, sqlite: Settings, house: House, tech: Actor, tmp_path: Path
) -> None:
    token = members.issue_token(house, tech.member.id, "phone")
    start = feed.revision(house, tech)
    with a_service(starter, sqlite, tmp_path) as service:
        service.start()
        made = phones(4, WRITES, seed=11, cause=CAUSE, client=lambda: service.client(token))
        copies = copies_while_written(house, made, tmp_path)
        service.stop()
    live = files_of(house, tech)
    pictures = pictures_of(house, tech, live)
    for n, (copy, acknowledged) in enumerate(copies):
        fresh = Settings(data=tmp_path / f"restored-{n}")
        safekeeping.restore(fresh, copy)
        with opened(fresh) as again:
            compare(again, tech, live, pictures)
            assert feed.revision(again, tech) - start >= acknowledged
            assert verify(again).good


def compare(again: House, actor: Actor, live: dict[str, CaseFile], pictures: dict[str, bytes]) -> None:
    """A copy holds each case that was not changed since as it is, and each other one as it was then."""
    reached, there = feed.revision(again, actor), files_of(again, actor)
    same = {id: file for id, file in live.items() if file.revision <= reached}
    assert same.items() <= there.items() and there.keys() <= live.keys()
    for id in there.keys() - same.keys():
        steps = {step.stamp.id for step in live[id].steps}
        assert {step.stamp.id for step in there[id].steps} <= steps and there[id].revision <= reached
    assert pictures_of(again, actor, there).items() <= pictures.items()


def test_a_damaged_store_is_found_and_the_backup_brings_every_case_back(
    sqlite: Settings, house: House, tech: Actor, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for phone in range(30):
        cases.open_case(house, tech, cases.CaseDraft(f"no crank, bay {phone}"))
    before = files_of(house, tech)
    monkeypatch.setenv("BAYLORE_DATA", str(sqlite.data))
    copy = str(tmp_path / "copy" / "good.db")
    Path(copy).parent.mkdir()
    assert cli.main(["backup", copy]) == 0 and cli.main(["verify"]) == 0
    house.close()
    file = sqlite.data / "baylore.db"
    data = bytearray(file.read_bytes())
    data[len(data) // 3 : len(data) * 2 // 3] = b"\x5a" * (len(data) * 2 // 3 - len(data) // 3)
    file.write_bytes(data)
    assert cli.main(["verify"]) == 1
    assert cli.main(["restore", copy]) == 0 and cli.main(["verify"]) == 0
    with opened(sqlite) as again:
        assert files_of(again, tech) == before


def test_a_file_taken_out_while_phones_write_is_the_shop_of_one_moment(
    starter: Starter, sqlite: Settings, house: House, boss: Actor, tmp_path: Path
) -> None:
    token = members.issue_token(house, boss.member.id, "phone")
    with a_service(starter, sqlite, tmp_path) as service:
        service.start()
        made = phones(4, WRITES // 2, seed=12, cause=CAUSE, client=lambda: service.client(token))
        with ThreadPoolExecutor(len(made)) as pool:
            working = [pool.submit(phone.work) for phone in made]
            time.sleep(0.2)
            lines = exported(service, token)
            for each in working:
                each.result()
        service.stop()
    live = files_of(house, boss)
    other = Settings(data=tmp_path / "other")
    safekeeping.restore(other, emptied(house, tmp_path))
    with opened(other) as again:
        told = taken_in(again, boss, lines)
        there = files_of(again, boss)
    assert told.refused == 0 and len(there) == sum(b'"kind":"case"' in line for line in lines)
    for id, file in there.items():
        if file.updated == live[id].updated:
            assert replace(file, revision=0) == replace(live[id], revision=0)
        assert {step.stamp.id for step in file.steps} <= {step.stamp.id for step in live[id].steps}


def exported(service: Service, token: str) -> list[bytes]:
    """The whole memory over HTTP."""
    with service.client(token) as office:
        answer = office.get("/export")
    assert answer.status_code == 200 and all(json.loads(line) for line in answer.content.splitlines())
    return answer.content.splitlines()


def emptied(house: House, folder: Path) -> Path:
    """A copy of the store with its people and without a case."""
    safekeeping.backup(house, folder / "people.db")
    settings = Settings(data=folder / "people")
    safekeeping.restore(settings, folder / "people.db")
    with opened(settings) as people, people.store.write() as work:
        for table in ("receipts", "photos", "cases"):
            work.connection.exec_driver_sql(f"DELETE FROM {table}")
        work.connection.exec_driver_sql("DELETE FROM changes WHERE kind = 'case'")
    with opened(settings) as people:
        safekeeping.backup(people, folder / "empty.db")
    return folder / "empty.db"


def taken_in(house: House, actor: Actor, lines: list[bytes]) -> transfer.ImportReport:
    """Take the lines in."""
    reader = Reader(house.trade_of(actor), house.now())
    return transfer.import_lines(
        house, actor, lines, parse=line_parser(reader), own_lines=own_lines(reader), mode="all"
    )
