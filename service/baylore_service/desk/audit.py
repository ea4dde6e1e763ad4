"""Looking at everything that must hold: the store, the logs, the revisions, the photos, the indexes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from baylore_service.desk.house import House
from baylore_service.errors import StoreDamaged
from baylore_service.store import cases, changes, copies, migrate, photos, shops
from baylore_service.store.records import CaseFile, Shop
from baylore_service.store.work import Work


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at: what, whether it is well, and what was found."""

    what: str
    good: bool
    found: str


@dataclass(frozen=True, slots=True)
class Verdict:
    """All checks; `good` when every one is."""

    checks: tuple[Check, ...]

    @property
    def good(self) -> bool:
        """Whether nothing is wrong."""
        return all(check.good for check in self.checks)


def verify(house: House, *, indexes: bool = True) -> Verdict:
    """Look at the store's integrity, the change logs, the revisions, the photos and the indexes.

    Without `indexes` none is built anew to compare, which takes long. In a file that is not whole nothing
    more is looked at: what it would say could not be believed.
    """
    file = _file_check(house)
    if file is not None and not file.good:
        return Verdict((file,))
    return Verdict((*([file] if file else ()), _table_check(house), *_shop_checks(house, indexes)))


def _file_check(house: House) -> Check | None:
    file = copies.file_of(house.settings.store_url)
    return None if file is None else _check("the database file is whole", copies.faults(file))


def _table_check(house: House) -> Check:
    differences = [str(each) for each in migrate.differences(house.store.engine)]
    return _check("the tables are those of the code", differences)


def _shop_checks(house: House, indexes: bool) -> Iterator[Check]:
    with house.store.read() as work:
        listed = shops.every(work)
    for shop in listed:
        try:
            yield from _of_shop(house, shop)
            if indexes:
                yield _check(f"{shop.name}: the index equals one built anew", wrong_index(house, shop))
        except StoreDamaged as error:
            yield Check(f"{shop.name}: every case can be read", False, error.message)


def _of_shop(house: House, shop: Shop) -> Iterator[Check]:
    with house.store.read() as work:
        files = {file.id: file for file in cases.every(work, shop.id)}
        yield _check(f"{shop.name}: the change log has no gap", changes.gaps(work, shop.id))
        yield _check(f"{shop.name}: revisions agree with the log", wrong_revisions(work, shop, files))
        yield _check(f"{shop.name}: every photo is whole", wrong_photos(work, shop, files))
        yield _check(f"{shop.name}: comebacks are linked both ways", wrong_links(files))
        yield _check(f"{shop.name}: joined records are linked both ways", wrong_joins(files))


def _check(what: str, wrong: Sequence[str]) -> Check:
    more = f" and {len(wrong) - 3} more" if len(wrong) > 3 else ""
    return Check(what, not wrong, "; ".join(wrong[:3]) + more)


def wrong_revisions(work: Work, shop: Shop, files: dict[str, CaseFile]) -> list[str]:
    """Cases whose document, row and last change do not name the same revision."""
    last = {each.id: each for each in changes.after(work, shop.id, 0) if each.kind == "case"}
    rows = cases.revisions(work, shop.id)
    logged = {id: change.seq for id, change in last.items() if change.op == "put"}
    lost = [f"case {id} is in the log, not in the store" for id in logged.keys() - rows.keys()]
    wrong = [
        f"case {id} is at {files[id].revision}, its row at {row}, the log at {logged.get(id)}"
        for id, row in rows.items()
        if not row == files[id].revision == logged.get(id)
    ]
    return sorted(lost) + wrong


def wrong_photos(work: Work, shop: Shop, files: dict[str, CaseFile]) -> list[str]:
    """Photos a case names without their bytes, and bytes no case names."""
    named = {(file.id, photo.id): photo.bytes for file in files.values() for photo in file.photos}
    there = photos.sizes(work, shop.id)
    differ = {key for key in named.keys() | there.keys() if named.get(key) != there.get(key)}
    return [
        f"photo {id} of case {case}: {named.get((case, id))} bytes named, {there.get((case, id))} kept"
        for case, id in sorted(differ)
    ]


def wrong_links(files: dict[str, CaseFile]) -> list[str]:
    """Cases that point at one another from one side only."""
    back = {(file.comeback_of, file.id) for file in files.values() if file.comeback_of in files}
    forth = {(file.id, id) for file in files.values() for id in file.returned_as if id in files}
    return [f"case {old} and its comeback {new}" for old, new in sorted(back ^ forth, key=str)]


def wrong_joins(files: dict[str, CaseFile]) -> list[str]:
    """Records of one visit that point at one another from one side only, or at nothing."""
    into = {(file.joined_into, file.id) for file in files.values() if file.joined_into}
    holds = {(file.id, id) for file in files.values() for id in file.joined if id in files}
    return [f"case {case} and its record {record}" for case, record in sorted(into ^ holds, key=str)]


def wrong_index(house: House, shop: Shop) -> list[str]:
    """How the index that follows the log differs from one built anew."""
    host = house.hosts.host(shop.id)
    followed, fresh = host.snapshot(), host.rebuilt()
    ids = followed.cases.keys() | fresh.cases.keys()
    return [f"case {id}" for id in sorted(ids) if followed.cases.get(id) != fresh.cases.get(id)]
