"""How often a device may call: a bucket each, filled all the time, so that none keeps others waiting."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from math import ceil

from baylore_service.errors import TooManyCalls

SPAN_S = 60.0
# More are held only while so many call within a minute; the full ones tell nothing.
MOST_HELD = 10_000


class Pace:
    """Lets each device make `most` calls at once, and as many in each minute; counted by this process alone.

    `clock` gives seconds that never go back.
    """

    def __init__(self, most: int, *, clock: Callable[[], float] = time.monotonic) -> None:
        self._most, self._clock = most, clock
        self._left: dict[str, tuple[float, float]] = {}
        self._lock = threading.Lock()

    def call(self, device_id: str) -> None:
        """Count a call of a device. Raises TooManyCalls, counting nothing, where it made too many."""
        with self._lock:
            now = self._clock()
            left = self._now_left(device_id, now)
            if left < 1:
                raise TooManyCalls(ceil((1 - left) * SPAN_S / self._most))
            if len(self._left) >= MOST_HELD:
                self._forget_full(now)
            self._left[device_id] = (left - 1, now)

    def _now_left(self, device_id: str, now: float) -> float:
        left, since = self._left.get(device_id, (float(self._most), now))
        return min(float(self._most), left + (now - since) * self._most / SPAN_S)

    def _forget_full(self, now: float) -> None:
        self._left = {id: kept for id, kept in self._left.items() if self._now_left(id, now) < self._most}
