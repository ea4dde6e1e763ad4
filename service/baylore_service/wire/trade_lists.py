"""The lists of the trade knowledge as plain JSON, each with a version of its content."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from typing import Any

from baylore_kb.trade.model import Trade
from baylore_service.errors import NotFound
from baylore_service.wire.decode import encode
from baylore_service.wire.feed import TradeList

NAMES = (
    "systems",
    "components",
    "symptoms",
    "quantities",
    "conditions",
    "tests",
    "causes",
    "cautions",
    "abbreviations",
    "traits",
    "modes",
)


class TradeLists:
    """All lists, each written out at first need: they do not change while the service runs."""

    def __init__(self, trade: Trade) -> None:
        self._trade = trade
        self._lists: dict[str, TradeList] = {}

    def get(self, name: str) -> TradeList:
        """A list by its name. Raises NotFound for any other name."""
        if name not in NAMES:
            raise NotFound("list", name, remedy=f"use one of: {', '.join(NAMES)}")
        if name not in self._lists:
            self._lists[name] = made(name, getattr(self._trade, name))
        return self._lists[name]


def made(name: str, records: Mapping[str, Any] | Iterable[Any]) -> TradeList:
    """A list with its version, the same for the same content."""
    items = tuple(_items(records))
    version = hashlib.sha256(encode(items)).hexdigest()[:16]
    return TradeList(list=name, version=version, items=items)


def _items(records: Mapping[str, Any] | Iterable[Any]) -> Iterable[dict[str, Any]]:
    """Records as objects; plain titles get their id beside them."""
    if not isinstance(records, Mapping):
        return [fields_of(record) for record in records]
    return [
        {"id": name, "title": record} if isinstance(record, str) else fields_of(record)
        for name, record in records.items()
    ]


def fields_of(record: Any) -> dict[str, Any]:
    """A record of the engine as a plain object."""
    return asdict(record)
