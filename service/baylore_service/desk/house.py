"""The wired things every act needs: settings, store, index hosts, trade knowledge, clock."""

from __future__ import annotations

import gc
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from functools import cache

from baylore_kb.symptoms import SymptomSpotter
from baylore_kb.tools import tools_for
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_service.books import Books
from baylore_service.desk.nudges import Nudges
from baylore_service.desk.tries import Tries
from baylore_service.index_files import IndexFiles
from baylore_service.index_host import IndexHosts, Mind
from baylore_service.pool_host import PoolHost
from baylore_service.settings import Settings
from baylore_service.store import migrate, shops
from baylore_service.store.records import Actor
from baylore_service.store.work import Store


def utc_now() -> datetime:
    """The time of day in UTC."""
    return datetime.now(UTC)


@cache
def shipped_spotter() -> SymptomSpotter:
    """Hears the symptoms of the shipped lists; made once, at first need."""
    return tools_for(load()).spotter


class House:
    """Built once per process by `House.open`; safe to use from many threads.

    Public: `settings`, `store`, `hosts` (the indexes by shop), `pool` (the index of what shops share),
    `books` (their counts), `trade` (the shipped lists), `tries` (wrong sign-in codes), `nudges` (shops to
    look at), `thinkers` (a thread for long reckoning: a second one answers no more questions a second, and
    short answers wait four times as long; more answers take more processes).
    """

    def __init__(self, settings: Settings, *, clock: Callable[[], datetime]) -> None:
        self.settings = settings
        self.trade: Trade = load()
        self.store = Store(settings.store_url, pool_size=settings.pool_size)
        self.hosts = IndexHosts(self.store, self.trade, IndexFiles(settings.data / "index"))
        self.pool = PoolHost(self.store, self.trade)
        self.books = Books(self.store, self.hosts)
        self.tries = Tries(settings.max_wrong_codes)
        self.nudges = Nudges()
        self.thinkers = ThreadPoolExecutor(1, thread_name_prefix="baylore-thinker")
        self._clock = clock
        self._schema_is_newest = False

    @classmethod
    def open(cls, settings: Settings, *, clock: Callable[[], datetime] = utc_now) -> House:
        """Open the store and load the trade lists. The store must be migrated.

        `clock` gives an aware datetime; left out it is the time of day in UTC.
        """
        return cls(settings, clock=clock)

    def trade_of(self, actor: Actor) -> Trade:
        """The shipped lists with what the actor's shop has of its own by now."""
        return self.hosts.host(actor.shop.id).trade()

    def mind_of(self, actor: Actor) -> Mind:
        """The newest index and tuning of the actor's shop."""
        return self.hosts.host(actor.shop.id).mind()

    @property
    def spotter(self) -> SymptomSpotter:
        """Hears listed symptoms in words."""
        return shipped_spotter()

    def now(self) -> datetime:
        """The time of day in UTC."""
        return self._clock().astimezone(UTC)

    def ready(self) -> bool:
        """Whether the schema is the newest. Raises StoreTrouble when the database does not answer."""
        self.store.ping()
        self._schema_is_newest = self._schema_is_newest or migrate.is_newest(self.store.engine)
        return self._schema_is_newest

    def warm(self) -> None:
        """Build the index of every shop, so that the first question does not wait for it."""
        with self.store.read() as work:
            listed = shops.every(work)
        for shop in listed:
            self.hosts.snapshot(shop.id)
        # What is held for good need not be walked through again and again while somebody waits.
        gc.collect()
        gc.freeze()

    def close(self) -> None:
        """Close all connections."""
        self.thinkers.shutdown(wait=False, cancel_futures=True)
        self.store.close()
