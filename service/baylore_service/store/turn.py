"""Writers of one process take turns."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from baylore_service.errors import StoreBusy


class Turn:
    """One writer at a time; waiting here is fair and costs nothing, inside SQLite it is neither.

    Nobody waits longer than `wait_s`. Once the database itself was found busy, only the one whose turn it is
    tries again, and the others are told at once: or all threads would wait, and no question be answered.
    """

    def __init__(self, wait_s: float) -> None:
        self._lock, self._wait_s, self._stuck = threading.Lock(), wait_s, False

    @contextmanager
    def taken(self) -> Iterator[None]:
        """The turn for as long as the block runs. Raises StoreBusy where it does not come."""
        got = self._lock.acquire(blocking=False) if self._stuck else self._lock.acquire(timeout=self._wait_s)
        if not got:
            raise StoreBusy("others are writing for too long")
        try:
            yield
            self._stuck = False
        except StoreBusy:
            self._stuck = True
            raise
        finally:
            self._lock.release()
