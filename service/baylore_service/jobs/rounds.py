"""One quiet thread that does the timed acts again and again until it is stopped."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import timedelta
from functools import partial

import structlog

from baylore_service import heap
from baylore_service.desk import alerts, messages, shops, tuning
from baylore_service.desk.audit import verify
from baylore_service.desk.house import House
from baylore_service.desk.tidying import tidy
from baylore_service.errors import ServiceError
from baylore_service.store.records import Shop

log = structlog.get_logger("baylore.rounds")
EVERY = timedelta(hours=6)
PATIENCE_S = 3.0
INDEXES_EVERY_S = 60.0
CLOSED_EVERY_S = 20.0
MESSAGES_EVERY_S = 15.0
WARM_AGAIN_S = 2.0
FIRST_S = 3600.0


@dataclass(frozen=True, slots=True)
class Round:
    """An act done again and again, `every_s` seconds apart."""

    name: str
    every_s: float
    act: Callable[[], object]

    @property
    def first_s(self) -> float:
        """Seconds before the first time; a process that lives for less than a day does it all the same."""
        return min(self.every_s, FIRST_S)


class Rounds:
    """Starts with `start`, ends with `stop`; what fails is logged and left to the next round."""

    def __init__(self, house: House, *, every: timedelta = EVERY) -> None:
        self._house = house
        self._rounds = [Round("tidy", every.total_seconds(), lambda: tidy(house))]
        self._rounds.append(Round("indexes", INDEXES_EVERY_S, house.hosts.tidy))
        self._rounds.append(Round("memory", INDEXES_EVERY_S, heap.give_back))
        if house.settings.tune_every_s:
            self._rounds.append(Round("tune", house.settings.tune_every_s, lambda: tune_due(house)))
        if house.settings.alerts_every_s:
            self._rounds.append(Round("alerts", house.settings.alerts_every_s, lambda: look_at_all(house)))
            self._rounds.append(Round("closed", CLOSED_EVERY_S, lambda: look_at_closed(house)))
            self._rounds.append(Round("messages", MESSAGES_EVERY_S, lambda: messages.send_due(house)))
        if house.settings.verify_every_s:
            self._rounds.append(Round("verify", house.settings.verify_every_s, lambda: look_through(house)))
        self._stopped = threading.Event()
        self._thread = threading.Thread(target=self._run, name="baylore-rounds", daemon=True)

    def start(self) -> None:
        """Begin: the indexes first, so that the first question finds them built."""
        self._house.failed_rounds.update({each.name: 0 for each in self._rounds})
        self._thread.start()

    def stop(self) -> None:
        """End after what is going on, or leave it to the end of the process: each act is whole or nothing."""
        self._stopped.set()
        self._thread.join(PATIENCE_S)
        attempt(self._house, "save indexes", self._house.hosts.save)

    def _run(self) -> None:
        while not attempt(self._house, "warm", self._house.warm):
            if self._stopped.wait(WARM_AGAIN_S):
                return
        attempt(self._house, "indexes", self._house.hosts.tidy)
        due = {each.name: time.monotonic() + each.first_s for each in self._rounds}
        while not self._stopped.wait(max(0.0, min(due.values()) - time.monotonic())):
            for each in self._rounds:
                if due[each.name] <= time.monotonic():
                    attempt(self._house, each.name, each.act)
                    due[each.name] = time.monotonic() + each.every_s


def look_at_all(house: House) -> None:
    """Look at every shop for alerts; a failure stays its own."""
    for shop in shops.list_shops(house):
        attempt(house, "alerts", partial(_look, house, shop))


def look_at_closed(house: House) -> None:
    """Look at the shops that closed a case since the last time."""
    nudged = house.nudges.take()
    for shop in shops.list_shops(house) if nudged else ():
        if shop.id in nudged:
            attempt(house, "alerts", partial(_look, house, shop))


def _look(house: House, shop: Shop) -> None:
    raised = alerts.look(house, shop)
    if raised:
        log.info("alerts raised", shop=shop.id, count=len(raised))


def tune_due(house: House) -> None:
    """Try a tuning for every shop that has closed enough cases since its last; a failure stays its own."""
    for shop in shops.list_shops(house):
        attempt(house, "tune", partial(_tune_one, house, shop.id))


def _tune_one(house: House, shop_id: str) -> None:
    if tuning.due(house, shop_id):
        tried = tuning.tune(house, shop_id)
        log.info("tuning tried", shop=shop_id, version=tried.version, adopted=tried.adopted)


def look_through(house: House) -> None:
    """Look through the whole store and keep what was found for who watches the service.

    No index is built anew for it, as somebody may wait for an answer meanwhile.
    """
    started = time.perf_counter()
    verdict = verify(house, indexes=False)
    bad = tuple(check.what for check in verdict.checks if not check.good)
    house.checkup.keep(bad, at=house.now(), seconds=time.perf_counter() - started)
    if bad:
        log.error("store not well", wrong=len(bad), remedy="run baylore verify")


def attempt(house: House, name: str, act: Callable[[], object]) -> bool:
    """Do a timed act; False, with a line in the log, where the store did not let it."""
    try:
        act()
    except ServiceError as error:
        house.failed_rounds[name] += 1
        log.warning("round failed", act=name, reason=error.message)
        return False
    return True
