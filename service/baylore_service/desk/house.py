"""The wired things every act needs: settings, store, index hosts, trade knowledge, clock."""

from __future__ import annotations

import gc
from collections import Counter
from collections.abc import Callable
from datetime import UTC, datetime
from functools import cache

import structlog

from baylore_kb.symptoms import SymptomSpotter
from baylore_kb.tools import tools_for
from baylore_kb.trade import load
from baylore_kb.trade.model import Trade
from baylore_service.books import Books
from baylore_service.desk.checkup import Checkup
from baylore_service.desk.nudges import Nudges
from baylore_service.desk.pace import Pace
from baylore_service.desk.rehearsal import rehearse
from baylore_service.desk.terms import terms_of
from baylore_service.desk.thinking import Thinkers
from baylore_service.desk.tries import Tries
from baylore_service.errors import SettingRefused, StoreDamaged
from baylore_service.far_host import FarHost, SpellingHost
from baylore_service.index_files import IndexFiles
from baylore_service.index_host import IndexHost, IndexHosts, Mind
from baylore_service.pool_host import PoolHost
from baylore_service.settings import Settings
from baylore_service.store import migrate, shops
from baylore_service.store.records import Actor, Shop
from baylore_service.store.sealed import open_hosts
from baylore_service.store.work import Store

log = structlog.get_logger("baylore.house")


def utc_now() -> datetime:
    """The time of day in UTC."""
    return datetime.now(UTC)


@cache
def shipped_spotter() -> SymptomSpotter:
    """Hears the symptoms of the shipped lists; made once, at first need."""
    return tools_for(load()).spotter


def opened_store(settings: Settings) -> Store:
    """The store of these settings, with its replica where there is one."""
    for host in {*open_hosts(settings.store_url), *open_hosts(settings.replica_url or "sqlite://")}:
        log.warning("store without TLS", host=host, remedy="add sslmode=verify-full to its address")
    return Store(
        settings.store_url,
        pool_size=settings.pool_size,
        wait_ms=settings.store_wait_ms,
        replica_url=settings.replica_url,
    )


def host_of(settings: Settings, store: Store) -> type[IndexHost]:
    """What holds a shop's memory. Raises SettingRefused for a store that cannot search by itself."""
    if settings.candidates == "memory":
        return IndexHost
    if store.is_sqlite:
        raise SettingRefused(
            "BAYLORE_CANDIDATES is 'database', and the store is a SQLite file",
            field="BAYLORE_CANDIDATES",
            remedy="set BAYLORE_DATABASE_URL to a PostgreSQL, or BAYLORE_CANDIDATES to memory",
        )
    return SpellingHost if settings.trigrams else FarHost


class House:
    """Built once per process by `House.open`; safe to use from many threads.

    Public: `settings`, `store`, `hosts` (the indexes by shop), `pool` (the index of what shops share),
    `books` (their counts), `trade` (the shipped lists), `tries` (wrong codes and tokens), `pace` (calls of
    a device), `nudges` (shops to look at), `thinkers` (for long reckoning), `checkup` (the last look at
    everything), `warmed` (every index is built), `draining` (ending), `failed_rounds` (timed acts that
    failed, by name).
    """

    def __init__(self, settings: Settings, *, clock: Callable[[], datetime]) -> None:
        self.settings = settings
        self.trade: Trade = load()
        self.store = opened_store(settings)
        files = IndexFiles(settings.data / "index")
        self.hosts = IndexHosts(self.store, self.trade, files, host=host_of(settings, self.store))
        self.pool = PoolHost(self.store, self.trade)
        self.books = Books(self.store, self.hosts)
        self.tries = Tries(self.store, settings.max_wrong_codes)
        self.pace = Pace(settings.max_calls)
        self.nudges = Nudges()
        self.thinkers = Thinkers(settings.max_waiting, settings.max_wait_s)
        self.checkup = Checkup()
        self.failed_rounds: Counter[str] = Counter()
        self.warmed = self.draining = False
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

    def mind_at_sign_in(self, actor: Actor) -> Mind:
        """An index and tuning no older than when the actor was found; not for who wrote since."""
        return self.hosts.host(actor.shop.id).mind(latest=actor.latest)

    @property
    def spotter(self) -> SymptomSpotter:
        """Hears listed symptoms in words."""
        return shipped_spotter()

    def now(self) -> datetime:
        """The time of day in UTC."""
        return self._clock().astimezone(UTC)

    def schema_is_newest(self) -> bool:
        """Whether the store's schema is the newest; once seen it is not looked at again."""
        self._schema_is_newest = self._schema_is_newest or migrate.is_newest(self.store.engine)
        return self._schema_is_newest

    def warm(self) -> None:
        """Build the index of every shop and ask it a question, so that the first one does not wait.

        A shop whose cases cannot be read keeps no other shop waiting. Raises StoreTrouble for a store that
        does not answer.
        """
        with self.store.read() as work:
            listed = shops.every(work)
        for shop in listed:
            self._build(shop)
        # What is held for good need not be walked through again and again while somebody waits.
        gc.collect()
        gc.freeze()
        # Counts what is left as the whole: else new garbage waits until it is a quarter of what is frozen.
        gc.collect()
        self.warmed = True

    def _build(self, shop: Shop) -> None:
        try:
            rehearse(self.hosts.host(shop.id).mind(), terms_of(shop))
        except StoreDamaged as error:
            log.error("index not built", shop=shop.id, reason=error.message)

    def drain(self) -> None:
        """Be not ready from now on, so that whoever sends questions sends them elsewhere."""
        self.draining = True

    def close(self) -> None:
        """Close all connections."""
        self.thinkers.close()
        self.store.close()
