"""A drill of going back to a moment, by PostgreSQL's own tools, as service/OPERATION.md says.

Cases are written before a base copy, after it, and after the moment that is wanted back; one that was there
is changed and one deleted in the lost time. `python -m tests.faults.point_in_time` prints what came back.
"""

from __future__ import annotations

import argparse
import shutil
import sys
import tarfile
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.postgres import Cluster, cluster, own_folder, owner

from baylore_kb.index import Snapshot
from baylore_kb.values import Vehicle
from baylore_service.desk import cases as desk
from baylore_service.desk import members, shops
from baylore_service.desk.audit import Verdict, verify
from baylore_service.desk.house import House
from baylore_service.settings import Settings
from baylore_service.store import cases as stored
from baylore_service.store.migrate import upgrade
from baylore_service.store.records import Actor, CaseDraft, CaseFile
from baylore_service.store.shops import every as every_shop

STARTS_WITHIN_S = 60.0
LINNET = Vehicle(2011, "Tarrow", "Linnet")
Files = dict[str, CaseFile]


@dataclass(frozen=True)
class Found:
    """What was there at the moment, what was there at the end, what came back, and how it stands."""

    at_the_moment: Files
    at_the_end: Files
    back: Files
    verdict: Verdict
    read_anew: bool
    seconds: float


def drill(folder: Path, *, cases: int) -> Found:
    """Write, copy, write, note the moment, write more, lose the server, and go back to the moment."""
    with own_folder() as safe, archived(safe) as primary:
        settings = Settings(database_url=primary.address, data=folder)
        upgrade(settings.store_url)
        token, at_the_moment, moment, at_the_end = story(settings, primary, safe, cases)
        archived_so_far(primary, safe)
        primary.kill()
        began = time.monotonic()
        with gone_back(safe, moment) as again:
            back = Settings(database_url=again.address, data=folder)
            return looked_at(back, token, at_the_moment, at_the_end, began)


@contextmanager
def archived(safe: Path) -> Iterator[Cluster]:
    """A server that archives its log into `wal` of a folder, each file once."""
    wal = safe / "wal"
    made_by_owner(wal)
    archive = f"test ! -f {wal}/%f && cp %p {wal}/%f"
    settings = (
        "fsync=off",
        "wal_level=replica",
        "max_wal_senders=4",
        "archive_mode=on",
        "archive_timeout=60",
    )
    with cluster(settings=(*settings, f"archive_command={archive}")) as primary:
        yield primary


def made_by_owner(folder: Path) -> None:
    """A folder of whoever the servers run as."""
    folder.mkdir(mode=0o700)
    who = owner()
    if who:
        shutil.chown(folder, who["user"], who["group"])


def story(settings: Settings, primary: Cluster, safe: Path, cases: int) -> tuple[str, Files, str, Files]:
    """What happens until the server is lost: a token, the cases at the moment, it, the cases at the end."""
    house = House.open(settings)
    try:
        shop = shops.create_shop(house, name="Corner Garage")
        member = members.add_member(house, shops.console(shop), name="Mara", role="manager")
        token = members.issue_token(house, member.id, "phone")
        actor = members.who(house, token)
        first = [written(house, actor, f"before the copy {n}") for n in range(cases)]
        primary.run(
            "pg_basebackup", "-D", str(safe / "base"), "-d", conninfo(primary), "-Ft", "-z", "-c", "fast"
        )
        for n in range(cases):
            written(house, actor, f"after the copy {n}")
        at_the_moment, moment = all_of(house), the_moment(primary)
        desk.amend_case(
            house, actor, first[0].id, {"complaint_text": "rattles downhill"}, expected_revision=None
        )
        desk.delete_case(house, actor, first[1].id, expected_revision=None)
        for n in range(cases):
            written(house, actor, f"in the lost time {n}")
        # A process that ends well leaves a saved index of the lost time.
        house.hosts.snapshot(shop.id)
        house.hosts.save()
        return token, at_the_moment, moment, all_of(house)
    finally:
        house.close()


def written(house: House, actor: Actor, words: str) -> CaseFile:
    """A new case."""
    made = desk.open_case(house, actor, CaseDraft(words, vehicle=LINNET))
    assert isinstance(made, CaseFile)
    return made


def conninfo(server: Cluster) -> str:
    """How PostgreSQL's own programs reach a server."""
    return f"host=127.0.0.1 port={server.port} user=baylore"


def the_moment(primary: Cluster) -> str:
    """A moment with its zone, between what was committed before and what comes after."""
    time.sleep(0.05)
    ((moment,),) = primary.sql("SELECT clock_timestamp()::text")
    time.sleep(0.05)
    return str(moment)


def archived_so_far(primary: Cluster, safe: Path) -> None:
    """Have the log archived that holds what was written until now."""
    ((segment,),) = primary.sql("SELECT pg_walfile_name(pg_switch_wal())")
    until = time.monotonic() + STARTS_WITHIN_S
    while not (safe / "wal" / segment).exists():
        assert time.monotonic() < until, f"{segment} was not archived"
        time.sleep(0.05)


@contextmanager
def gone_back(safe: Path, moment: str) -> Iterator[Cluster]:
    """The server as it was at the moment, made of the base copy and the archived log, taking writes."""
    data = safe / "again"
    made_by_owner(data)
    unpacked(safe / "base" / "base.tar.gz", data)
    unpacked(safe / "base" / "pg_wal.tar.gz", data / "pg_wal")
    (data / "recovery.signal").touch()
    restored = f"restore_command=cp {safe}/wal/%f %p"
    target = (f"recovery_target_time={moment}", "recovery_target_action=promote")
    again = Cluster(data, settings=("fsync=off", restored, *target))
    again.start()
    try:
        until = time.monotonic() + STARTS_WITHIN_S
        while again.sql("SELECT pg_is_in_recovery()") == [(True,)]:
            assert time.monotonic() < until, again.said()
            time.sleep(0.05)
        yield again
    finally:
        again.stop()


def unpacked(archive: Path, into: Path) -> None:
    """The files of an archive, owned as they were packed."""
    with tarfile.open(archive) as packed:
        packed.extractall(into, filter="fully_trusted", numeric_owner=True)
    who = owner()
    for place in (into, *into.rglob("*")) if who else ():
        shutil.chown(place, who["user"], who["group"])


def looked_at(settings: Settings, token: str, at_the_moment: Files, at_the_end: Files, began: float) -> Found:
    """What the server that went back holds; it is written to in the end."""
    house = House.open(settings)
    try:
        actor = members.who(house, token)
        back = all_of(house)
        seconds = time.monotonic() - began
        # The change that was lost had this number too: what was saved of the lost words must not be used.
        first = next(id for id, file in at_the_moment.items() if file.complaint_text == "before the copy 0")
        desk.amend_case(house, actor, first, {"complaint_text": "squeals uphill"}, expected_revision=None)
        host = house.hosts.host(actor.shop.id)
        anew = words_of(host.snapshot(), first) == words_of(host.rebuilt(), first)
        return Found(at_the_moment, at_the_end, back, verify(house), anew, seconds)
    finally:
        house.close()


def words_of(snapshot: Snapshot, case_id: str) -> set[str]:
    """What was read of a case, in words."""
    known = snapshot.reader.book.terms
    return {known[number] for number in snapshot.doc(case_id).words}


def all_of(house: House) -> Files:
    """All cases of all shops by id."""
    with house.store.read() as work:
        return {file.id: file for shop in every_shop(work) for file in stored.every(work, shop.id)}


def main() -> int:
    """Run the drill and say what came back; 1 unless it is what was there at the moment."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--cases", type=int, default=40, help="cases written in each of three stretches (40)")
    with tempfile.TemporaryDirectory() as folder:
        found = drill(Path(folder), cases=parser.parse_args().cases)
    same = found.back == found.at_the_moment
    lost = len(found.at_the_end.keys() - found.back.keys())
    sys.stdout.write(
        f"at the moment {len(found.at_the_moment)} cases, came back {len(found.back)}, the same: {same}\n"
        f"written after it and gone: {lost}; back after {found.seconds:.1f} s; "
        f"store good: {found.verdict.good}; saved index not believed: {found.read_anew}\n"
    )
    for check in found.verdict.checks:
        sys.stdout.write("" if check.good else f"  {check.what}: {check.found}\n")
    return 0 if same and found.verdict.good and found.read_anew else 1


if __name__ == "__main__":
    sys.exit(main())
