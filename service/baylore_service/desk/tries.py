"""Wrong sign-in codes by the address they came from: after too many in a minute the next must wait."""

from __future__ import annotations

import threading
from collections import OrderedDict, deque
from datetime import datetime, timedelta
from math import ceil

from baylore_service.errors import TooManyTries

SPAN = timedelta(minutes=1)
# Beyond so many addresses the one that was wrong longest ago is forgotten, to bound the memory.
MOST_ADDRESSES = 10_000


class Tries:
    """Remembers wrong codes of the last minute; each process counts for itself."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._wrong: OrderedDict[str, deque[datetime]] = OrderedDict()
        self._lock = threading.Lock()

    def check(self, address: str, now: datetime) -> None:
        """Raises TooManyTries where this address has been wrong too often."""
        with self._lock:
            times = self._recent(address, now)
            if len(times) >= self._most:
                raise TooManyTries(ceil((times[0] + SPAN - now).total_seconds()))

    def wrong(self, address: str, now: datetime) -> None:
        """Note a wrong code."""
        with self._lock:
            times = self._recent(address, now)
            times.append(now)
            self._wrong[address] = times
            self._wrong.move_to_end(address)
            if len(self._wrong) > MOST_ADDRESSES:
                self._wrong.popitem(last=False)

    def _recent(self, address: str, now: datetime) -> deque[datetime]:
        times = self._wrong.get(address, deque())
        # What lies ahead was noted before the clock was set back; waiting for it could take days.
        while times and not timedelta() <= now - times[0] < SPAN:
            times.popleft()
        return times
