"""The whole memory out as lines, and lines in again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Literal

from baylore_service.desk.arrivals import Arrivals, Tally, read_lines
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.errors import BadLine, ImportRefused
from baylore_service.store import cases, photos
from baylore_service.store.records import Actor, CaseFile, PhotoBlob, Shop
from baylore_service.store.shops import get as get_shop
from baylore_service.store.work import Work

Moved = Shop | CaseFile | PhotoBlob
Mode = Literal["all", "report"]


@dataclass(frozen=True, slots=True)
class ImportReport:
    """What an import did; `lines` are those refused."""

    added: int
    unchanged: int
    updated: int
    refused: int
    lines: tuple[BadLine, ...]


def export_lines(house: House, actor: Actor, *, render: Callable[[Moved], bytes]) -> Iterator[bytes]:
    """The shop, then each case followed by its photos, each rendered as one line with its newline.

    All of one moment: what is written meanwhile is not in it. Raises WrongRole at the call.
    """
    only_managers(actor, "take the whole memory out")
    return (render(each) for each in _everything(house, actor))


def _everything(house: House, actor: Actor) -> Iterator[Moved]:
    with house.store.read() as work:
        shop = get_shop(work, actor.shop.id)
        yield shop or actor.shop
        for file in cases.every(work, actor.shop.id):
            yield file
            yield from photos.of_case(work, actor.shop.id, file)


def import_lines(
    house: House,
    actor: Actor,
    lines: Iterable[bytes],
    *,
    parse: Callable[[bytes], Moved | None],
    mode: Mode = "all",
) -> ImportReport:
    """Take a file in, in one transaction. Blank lines and lines that parse to None or a Shop are passed over.

    `parse` raises ServiceError or BayloreError for a line that cannot be. A case parsed with id "" gets one
    worked out from its line, so that the same file again doubles nothing. Photos named in a case line are
    not taken from it: each comes by its own PhotoBlob line.
    The store's case stays where it was changed later than the line says (`updated`).
    Mode "all" raises ImportRefused for any bad line and takes nothing; "report" takes the good ones.
    """
    only_managers(actor, "take a file in")
    arrivals = read_lines(house, lines, parse)
    if mode == "all" and arrivals.bad:
        raise ImportRefused(tuple(arrivals.bad))
    with house.store.write(actor.shop.id) as work:
        tally = _taken(house, work, actor, arrivals)
        bad = tuple(sorted(arrivals.bad, key=lambda line: line.line))
        if mode == "all" and bad:
            raise ImportRefused(bad)
    return ImportReport(tally.added, tally.unchanged, tally.updated, len(bad), bad)


def _taken(house: House, work: Work, actor: Actor, arrivals: Arrivals) -> Tally:
    """Keep all that arrived: the cases first, so that a photo finds its own."""
    tally = Tally()
    for case in arrivals.cases:
        tally.count(arrivals.take_case(house, work, actor, case))
    for photo in arrivals.photos:
        tally.count(arrivals.take_photo(house, work, actor, photo))
    return tally
