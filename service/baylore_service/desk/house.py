"""The wired things every act needs: settings, store, index hosts, trade knowledge, clock."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

from baylore_kb.trade.model import Trade
from baylore_service.settings import Settings


class House:
    """Built once per process by `House.open`; safe to use from many threads.

    Public: `settings`, `store`, `hosts` (index hosts by shop), `trade`.
    """

    settings: Settings
    trade: Trade

    @classmethod
    def open(cls, settings: Settings, *, clock: Callable[[], datetime] | None = None) -> House:
        """Open the store and load the trade lists. The store must be migrated.

        `clock` gives an aware datetime; left out it is the time of day in UTC.
        """
        raise NotImplementedError

    def now(self) -> datetime:
        """The time of day in UTC."""
        raise NotImplementedError

    def ready(self) -> bool:
        """Whether the store answers and its schema is the newest."""
        raise NotImplementedError

    def close(self) -> None:
        """Close all connections."""
        raise NotImplementedError
