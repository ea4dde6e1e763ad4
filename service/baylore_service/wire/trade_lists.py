"""The lists of the trade knowledge as plain JSON, each with a version of its content."""

from __future__ import annotations

import hashlib
import threading
from collections import OrderedDict
from collections.abc import Iterable, Mapping
from dataclasses import asdict
from typing import Any

from baylore_kb.trade.model import Cause, Component, Test, Trade
from baylore_kb.trade.own import notes_of, shipped_of
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
MOST_KEPT = 100


class TradeLists:
    """The lists of all shops, each written out at first need and kept while it is asked for."""

    def __init__(self) -> None:
        self._lists: OrderedDict[tuple[str, str], TradeList] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, name: str, trade: Trade) -> TradeList:
        """A list by its name. Raises NotFound for any other name."""
        if name not in NAMES:
            raise NotFound("list", name, remedy=f"use one of: {', '.join(NAMES)}")
        key = (trade.version, name)
        with self._lock:
            found = self._lists.pop(key, None) or made(name, trade)
            self._lists[key] = found
            while len(self._lists) > MOST_KEPT:
                self._lists.popitem(last=False)
            return found


def made(name: str, trade: Trade) -> TradeList:
    """A list with its version, the same for the same content."""
    items = tuple(_items(getattr(trade, name), trade))
    version = hashlib.sha256(encode(items)).hexdigest()[:16]
    return TradeList(list=name, version=version, items=items)


def _items(records: Mapping[str, Any] | Iterable[Any], trade: Trade) -> Iterable[dict[str, Any]]:
    """Records as objects; plain titles get their id beside them."""
    if not isinstance(records, Mapping):
        return [item_of(record, trade) for record in records]
    return [
        {"id": name, "title": record} if isinstance(record, str) else item_of(record, trade)
        for name, record in records.items()
    ]


def item_of(record: Any, trade: Trade) -> dict[str, Any]:
    """A record of the engine as a plain object, saying whether it is the shop's own."""
    shipped = shipped_of(trade)
    if isinstance(record, Test):
        return asdict(record) | _test_marks(record, trade)
    if isinstance(record, Cause):
        return asdict(record) | {"own": record.id not in shipped.causes}
    if isinstance(record, Component):
        return asdict(record) | {"own": record.id not in shipped.components}
    return asdict(record)


def _test_marks(test: Test, trade: Trade) -> dict[str, Any]:
    """Own or listed, and the listed minutes; a `retired` one is only kept for the cases that did it."""
    listed = shipped_of(trade).tests.get(test.id)
    return {
        "own": listed is None,
        "listed_min": listed and listed.setup_min + listed.do_min,
        "note": notes_of(trade).get(test.id, ""),
        "retired": listed is None and not test.offer_for,
    }
