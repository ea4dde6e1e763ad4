"""Learning from the shop's own cases how alike is alike and how sure to sound: tried, kept, used."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import timedelta
from math import ceil
from uuid import uuid4

import msgspec

from baylore_kb.fit import FEWEST_CASES
from baylore_kb.index import Snapshot
from baylore_kb.tuning import Trial, as_document, trial
from baylore_service.desk.house import House
from baylore_service.desk.roles import only_managers
from baylore_service.desk.shops import console
from baylore_service.errors import Busy, NotFound
from baylore_service.store import changes, claims, shops, tunings
from baylore_service.store.claims import Claim
from baylore_service.store.records import Actor
from baylore_service.store.records.own import TuningTrial
from baylore_service.store.work import Work

ACT = "tuning"
# A trial takes seconds to minutes; a process that died in one holds it up no longer than this.
LONGEST = timedelta(minutes=30)
FEWEST_NEW, NEW_SHARE = 25, 0.1


def last_trial(house: House, actor: Actor) -> TuningTrial | None:
    """The shop's last trial, None before the first. Raises WrongRole."""
    only_managers(actor, "see the tuning")
    with house.store.read() as work:
        return tunings.latest(work, actor.shop.id)


def due(house: House, shop_id: str) -> bool:
    """Whether 25 or a tenth of the cases were closed since the last trial, and that is long enough ago.

    The first is due with 50 closed cases.
    """
    with house.store.read() as work:
        last = tunings.latest(work, shop_id)
    closed = _closed(house.hosts.snapshot(shop_id))
    if last is None:
        return closed >= FEWEST_CASES
    rested = house.now() - last.at >= timedelta(seconds=house.settings.tune_every_s)
    return rested and abs(closed - last.closed) >= min(FEWEST_NEW, ceil(NEW_SHARE * last.closed))


def tune(house: House, shop_id: str) -> TuningTrial:
    """Try a tuning on the shop's cases as they are now and keep what was found; used where it was better.

    Nothing is locked while it is tried. Raises Busy while it is going on elsewhere.
    """
    with _claimed(house, shop_id):
        snapshot = house.hosts.snapshot(shop_id)
        found = trial(snapshot)
        with house.store.write(shop_id) as work:
            return _kept(house, work, shop_id, snapshot, found=found)


def _kept(house: House, work: Work, shop_id: str, snapshot: Snapshot, *, found: Trial) -> TuningTrial:
    last = tunings.latest(work, shop_id)
    made = TuningTrial(
        version=last.version + 1 if last else 1,
        at=house.now(),
        revision=snapshot.revision,
        closed=_closed(snapshot),
        asked=found.cases,
        shipped_loss=found.shipped_loss,
        tuned_loss=found.tuned_loss,
        adopted=found.adopted,
        document=msgspec.json.encode(as_document(found.tuning)).decode(),
    )
    tunings.add(work, shop_id, made)
    if made.adopted or (last is not None and last.adopted):
        by = _service(work, shop_id)
        changes.append(work, by, "tuning", str(made.version), at=made.at)
    return made


def _service(work: Work, shop_id: str) -> Actor:
    shop = shops.get(work, shop_id)
    if shop is None:
        raise NotFound("shop", shop_id)
    return console(shop)


@contextmanager
def _claimed(house: House, shop_id: str) -> Iterator[None]:
    """The act is this one's alone until it ends. Raises Busy where it is another's."""
    now = house.now()
    claim = Claim(shop_id, ACT, holder=str(uuid4()), until=now + LONGEST)
    with house.store.write(shop_id) as work:
        free = claims.take(work, claim, now=now)
    if not free:
        raise Busy("the shop's tuning is being tried already", remedy="wait until that is done")
    try:
        yield
    finally:
        with house.store.write(shop_id) as work:
            claims.release(work, claim)


def _closed(snapshot: Snapshot) -> int:
    return sum(case.state == "closed" and case.cause is not None for case in snapshot.cases.values())
