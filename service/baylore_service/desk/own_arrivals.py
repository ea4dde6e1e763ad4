"""Entries of a shop's own lists that a file brings in: checked together, since they name one another."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from datetime import datetime
from typing import Any, Literal

from baylore_kb.errors import BayloreError
from baylore_kb.trade.model import Trade
from baylore_service.desk.checks import own as check
from baylore_service.desk.checks import plain
from baylore_service.desk.house import House
from baylore_service.desk.own_lists import keep
from baylore_service.errors import ServiceError
from baylore_service.shop_lists import joined
from baylore_service.store import own
from baylore_service.store.records import Actor
from baylore_service.store.records.own import OwnEntry, kind_of
from baylore_service.store.work import Work

Refusal = ServiceError | BayloreError
Done = Literal["added", "unchanged", "updated"]


@dataclass(frozen=True, slots=True)
class OwnLines:
    """How a file's own entries are read: `entry` gives the entry of a line, None for any other line.

    `parser` makes what reads the other lines against lists that hold the entries.
    """

    entry: Callable[[bytes], OwnEntry | None]
    parser: Callable[[Trade], Callable[[bytes], Any]]


@dataclass(frozen=True, slots=True)
class OwnArrivals:
    """The good entries of a file, the bad ones by line, and the lists with the good ones."""

    entries: tuple[OwnEntry, ...]
    bad: dict[int, Refusal]
    trade: Trade


def read_entries(
    house: House, actor: Actor, lines: Iterable[bytes], entry: Callable[[bytes], OwnEntry | None]
) -> OwnArrivals:
    """The own entries of a file. One that names a bad one is bad too."""
    with house.store.read() as work:
        there = own.every(work, actor.shop.id)
    found, bad = _parsed(lines, entry)
    while True:
        values = {(each.kind, each.value.id): each.value for each in (*there, *found.values())}
        trade = joined(house.trade, values.values())
        good, wrong = _checked(found, trade, house.now())
        if not wrong:
            return OwnArrivals(tuple(good.values()), bad, trade)
        found, bad = {number: found[number] for number in good}, bad | wrong


def _parsed(
    lines: Iterable[bytes], entry: Callable[[bytes], OwnEntry | None]
) -> tuple[dict[int, OwnEntry], dict[int, Refusal]]:
    found: dict[int, OwnEntry] = {}
    bad: dict[int, Refusal] = {}
    for number, line in enumerate(lines, 1):
        try:
            one = entry(line.strip()) if line.strip() else None
        except (ServiceError, BayloreError) as error:
            bad[number] = error
        else:
            if one is not None:
                found[number] = one
    return found, bad


def _checked(
    found: dict[int, OwnEntry], trade: Trade, now: datetime
) -> tuple[dict[int, OwnEntry], dict[int, Refusal]]:
    good: dict[int, OwnEntry] = {}
    bad: dict[int, Refusal] = {}
    for number, entry in found.items():
        try:
            plain.not_ahead(entry.made, now, field="made")
            plain.not_ahead(entry.updated, now, field="updated")
            good[number] = replace(entry, value=check.checked(entry.value, trade))
        except (ServiceError, BayloreError) as error:
            bad[number] = error
    return good, bad


def take_entry(house: House, work: Work, actor: Actor, entry: OwnEntry) -> Done:
    """Keep an entry, unless the store's is the same or newer."""
    there = own.get(work, actor.shop.id, kind_of(entry.value), entry.value.id)
    if there is not None and (there.value == entry.value or there.updated >= entry.updated):
        return "unchanged"
    keep(house, work, actor, entry)
    return "added" if there is None else "updated"
