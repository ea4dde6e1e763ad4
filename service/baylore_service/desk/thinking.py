"""The one thread of long reckoning, and the line before it, which has an end."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from math import ceil
from typing import TypeVar

from baylore_service.errors import Overloaded

T = TypeVar("T")
SHARE = 0.1
FIRST_GUESS_S = 0.1
LONGEST_WAIT_S = 60


class Thinkers:
    """Reckons one thing after the other, in the order they came.

    A second thread answers no more questions a second, and short answers wait four times as long; more
    answers take more processes. Nobody is let in who would wait longer than `wait_s`, nor more than
    `most_waiting`; who waited longer all the same is not answered any more, as the phone has given up.
    Public figures: `waiting`, `refused`, `mean_s` (what one takes of late).
    """

    def __init__(self, most_waiting: int, wait_s: float) -> None:
        self._most, self._patience_s = most_waiting, wait_s
        self._pool = ThreadPoolExecutor(1, thread_name_prefix="baylore-thinker")
        self._lock = threading.Lock()
        self.waiting, self.refused, self.mean_s = 0, 0, FIRST_GUESS_S

    def think(self, reckon: Callable[[], T]) -> Future[T]:
        """What `reckon` will give. Raises Overloaded where too many wait already, here or from the future."""
        with self._lock:
            # The one that is being answered does not wait.
            if self.waiting > self._most or (self.waiting - 1) * self.mean_s > self._patience_s:
                raise self._refused()
            self.waiting += 1
        try:
            future = self._pool.submit(self._timed, reckon, time.perf_counter())
        except RuntimeError as closing:
            self._leave()
            raise Overloaded(self.waiting, wait_s=1) from closing
        future.add_done_callback(self._dropped)
        return future

    def wait_s(self) -> int:
        """Whole seconds until about half of the line is through."""
        return min(LONGEST_WAIT_S, max(1, ceil(self.waiting * self.mean_s / 2)))

    def close(self) -> None:
        """Take nothing more; what is being reckoned is finished, the rest dropped."""
        self._pool.shutdown(wait=False, cancel_futures=True)

    def _timed(self, reckon: Callable[[], T], came: float) -> T:
        started = time.perf_counter()
        if started - came > self._patience_s:
            with self._lock:
                self.waiting -= 1
                raise self._refused()
        try:
            return reckon()
        finally:
            self._leave(time.perf_counter() - started)

    def _refused(self) -> Overloaded:
        self.refused += 1
        return Overloaded(self.waiting, wait_s=self.wait_s())

    def _dropped(self, future: Future[T]) -> None:
        """Count one that was given up before its turn."""
        if future.cancelled():
            self._leave()

    def _leave(self, seconds: float | None = None) -> None:
        with self._lock:
            self.waiting -= 1
            self.mean_s += SHARE * (seconds - self.mean_s) if seconds is not None else 0.0
