"""The whole memory out as lines, and lines in again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from baylore_service.desk import trail
from baylore_service.desk.arrivals import Arrivals, Tally, read_lines
from baylore_service.desk.doubles import Doubles, doubles
from baylore_service.desk.house import House
from baylore_service.desk.own_arrivals import OwnArrivals, OwnLines, read_entries, take_entry
from baylore_service.desk.roles import only_managers
from baylore_service.errors import BadLine, ImportRefused
from baylore_service.store import cases, own, photos
from baylore_service.store.records import Actor, CaseFile, PhotoBlob, Shop
from baylore_service.store.records.own import OwnEntry
from baylore_service.store.shops import get as get_shop
from baylore_service.store.work import Work

Moved = Shop | OwnEntry | CaseFile | PhotoBlob
Mode = Literal["all", "report"]


@dataclass(frozen=True, slots=True)
class ImportReport:
    """What an import did; `lines` are those refused, `doubles` those that were written down before."""

    added: int
    unchanged: int
    updated: int
    refused: int
    lines: tuple[BadLine, ...]
    doubles: Doubles = Doubles()


def export_lines(house: House, actor: Actor, *, render: Callable[[Moved], bytes]) -> Iterator[bytes]:
    """The shop, its own lists, then each case followed by its photos, each as one line with its newline.

    All of one moment: what is written meanwhile is not in it. Raises WrongRole at the call.
    """
    only_managers(actor, "take the whole memory out")
    with house.store.write(actor.shop.id) as work:
        trail.note(house, work, actor, "taken out", kind="memory", entity=actor.shop.id)
    return (render(each) for each in _everything(house, actor))


def _everything(house: House, actor: Actor) -> Iterator[Moved]:
    with house.store.read() as work:
        shop = get_shop(work, actor.shop.id)
        yield shop or actor.shop
        yield from own.every(work, actor.shop.id)
        for file in cases.every(work, actor.shop.id):
            yield file
            yield from photos.of_case(work, actor.shop.id, file)


def import_lines(
    house: House,
    actor: Actor,
    lines: Iterable[bytes],
    *,
    parse: Callable[[bytes], Moved | None],
    own_lines: OwnLines | None = None,
    mode: Mode = "all",
) -> ImportReport:
    """Take a file in, in one transaction. Blank lines and lines that parse to None or a Shop are passed over.

    `parse` raises ServiceError or BayloreError for a line that cannot be. A case parsed with id "" gets one
    worked out from its line, so that the same file again doubles nothing. Photos named in a case line are
    not taken from it: each comes by its own PhotoBlob line.
    With `own_lines` the shop's own lists are read first, wherever they stand in the file, and the cases
    against them; else `parse` knows all they name.
    The store's case stays where it was changed later than the line says (`updated`).
    Records of a visit that is written down already are taken like any other and told in `doubles`.
    Mode "all" raises ImportRefused for any bad line and takes nothing; "report" takes the good ones.
    """
    only_managers(actor, "take a file in")
    lines = list(lines)
    mine = _own(house, actor, lines, own_lines)
    parse = own_lines.parser(mine.trade) if own_lines else parse
    arrivals = read_lines(house, lines, parse, trade=mine.trade)
    for number, error in mine.bad.items():
        arrivals.refuse(number, error)
    arrivals.refuse_lost(house, actor)
    if mode == "all" and arrivals.bad:
        raise ImportRefused(tuple(sorted(arrivals.bad, key=lambda line: line.line)))
    twice = doubles(arrivals.cases, tuple(house.hosts.snapshot(actor.shop.id).cases.values()))
    with house.store.write(actor.shop.id) as work:
        trail.note(house, work, actor, "taken in", kind="memory", entity=actor.shop.id)
        tally = Tally()
        for entry in mine.entries:
            tally.count(take_entry(house, work, actor, entry))
        _take(house, work, actor, arrivals, tally=tally)
        bad = tuple(sorted(arrivals.bad, key=lambda line: line.line))
        if mode == "all" and bad:
            raise ImportRefused(bad)
    return ImportReport(tally.added, tally.unchanged, tally.updated, len(bad), bad, twice)


def _own(house: House, actor: Actor, lines: list[bytes], own_lines: OwnLines | None) -> OwnArrivals:
    if own_lines is None:
        return OwnArrivals((), {}, house.trade_of(actor))
    return read_entries(house, actor, lines, own_lines.entry)


def _take(house: House, work: Work, actor: Actor, arrivals: Arrivals, *, tally: Tally) -> None:
    """Keep all that arrived: the cases first, so that a photo finds its own."""
    for case in arrivals.cases:
        tally.count(arrivals.take_case(house, work, actor, case))
    for photo in arrivals.photos:
        tally.count(arrivals.take_photo(house, work, actor, photo))
