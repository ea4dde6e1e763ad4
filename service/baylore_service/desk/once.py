"""A write arrives once: the same key and request get the kept answer, whatever happened between."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from baylore_service.desk.house import House
from baylore_service.store import receipts
from baylore_service.store.records import Actor, Kept, Receipt
from baylore_service.store.work import Work

T = TypeVar("T")


def once(house: House, actor: Actor, receipt: Receipt | None, act: Callable[[Work], T]) -> T | Kept:
    """Do the act and keep its answer, in one transaction; all of it is kept or nothing."""
    shop_id = actor.shop.id
    with house.store.write(shop_id) as work:
        if receipt is None:
            return act(work)
        if (kept := receipts.find(work, shop_id, receipt)) is not None:
            return kept
        body = receipt.render(act(work))
        return receipts.keep(work, shop_id, receipt, body=body, at=house.now())
