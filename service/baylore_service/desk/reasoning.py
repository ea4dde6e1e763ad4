"""What a phone needs to reckon without signal, besides its copy of the cases and the trade lists."""

from __future__ import annotations

import hashlib
import json
import threading
from collections import OrderedDict
from dataclasses import dataclass
from typing import Any, Literal

from baylore_kb import handout
from baylore_service.desk.house import House
from baylore_service.desk.terms import terms_of
from baylore_service.store.records import Actor

Part = Literal["lists", "shop"]
MOST_KEPT = 50


@dataclass(frozen=True, slots=True)
class HandedOut:
    """One part as JSON, and a tag that is the same for the same content."""

    body: bytes
    tag: str


class Handouts:
    """What was handed out last of each part; the same lists and the same revision are written out once."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[object, ...], HandedOut] = OrderedDict()
        self._lock = threading.Lock()

    def get(self, house: House, actor: Actor, part: Part) -> HandedOut:
        """The part as it is now: what the lists decide, or what the shop's own cases and habits teach."""
        mind = house.mind_of(actor)
        terms = terms_of(actor.shop)
        version = mind.snapshot.trade.version
        key = (version,) if part == "lists" else (actor.shop.id, version, mind.snapshot.revision, terms)
        with self._lock:
            found = self._kept.pop(key, None)
        if found is None:
            lists = part == "lists"
            found = _written(
                handout.lists(mind.snapshot.trade)
                if lists
                else handout.shop(mind.snapshot, terms, mind.tuning)
            )
        with self._lock:
            self._kept[key] = found
            while len(self._kept) > MOST_KEPT:
                self._kept.popitem(last=False)
        return found


def _written(found: dict[str, Any]) -> HandedOut:
    """The revision is no part of the tag: what a change leaves as it was need not travel again."""
    body = json.dumps(found, ensure_ascii=False, separators=(",", ":")).encode()
    settled = json.dumps({**found, "revision": None}, sort_keys=True).encode()
    return HandedOut(body, hashlib.sha256(settled).hexdigest()[:16])
