"""Which shops closed something since they were last looked at."""

from __future__ import annotations

import threading


class Nudges:
    """Shop ids, each once, taken all at once."""

    def __init__(self) -> None:
        self._ids: set[str] = set()
        self._lock = threading.Lock()

    def nudge(self, shop_id: str) -> None:
        """Have a shop looked at."""
        with self._lock:
            self._ids.add(shop_id)

    def take(self) -> set[str]:
        """The shops to look at; none the next time."""
        with self._lock:
            found, self._ids = self._ids, set()
            return found
