"""One quiet thread that keeps the indexes of this process caught up with what other processes wrote."""

from __future__ import annotations

import threading
import time

from baylore_service.desk.house import House
from baylore_service.jobs.rounds import attempt
from baylore_service.store.notices import Listener

PATIENCE_S = 3.0
# How long a stop may wait for the listener, and how soon a lost connection is tried again.
BREATH_S = 0.5
BURST_S = 0.05


class Following:
    """Follows the change logs of the shops held here: by notification where the store is PostgreSQL, by
    asking every `follow_every_s` seconds where it is not, and as a net.
    """

    def __init__(self, house: House) -> None:
        self._house, self._every_s = house, float(house.settings.follow_every_s)
        self._listener = None if house.store.is_sqlite else Listener(house.store.url)
        self._stopped = threading.Event()
        self._thread = threading.Thread(target=self._run, name="baylore-following", daemon=True)

    def start(self) -> None:
        """Begin, unless the setting says never."""
        if self._every_s:
            self._thread.start()

    def stop(self) -> None:
        """End after what is going on."""
        self._stopped.set()
        if self._thread.is_alive():
            self._thread.join(PATIENCE_S)

    def _run(self) -> None:
        due = 0.0
        while not self._stopped.is_set():
            told = self._heard()
            if told or told is None or time.monotonic() >= due:
                # Writes come in bursts: one catching up serves them all.
                self._stopped.wait(BURST_S)
                attempt(self._house, "follow", self._house.hosts.follow)
                due = time.monotonic() + self._every_s
        if self._listener is not None:
            self._listener.close()

    def _heard(self) -> frozenset[str] | None:
        """The shops that were told of; None where that is not known."""
        if self._listener is None:
            self._stopped.wait(BREATH_S)
            return frozenset()
        told = self._listener.heard(BREATH_S)
        if told is None:
            self._stopped.wait(BREATH_S)
        return told
