"""One quiet thread that does the timed acts again and again until it is stopped."""

from __future__ import annotations

import threading
from datetime import timedelta

import structlog

from baylore_service.desk.house import House
from baylore_service.desk.tidying import tidy
from baylore_service.errors import ServiceError

log = structlog.get_logger("baylore.rounds")
EVERY = timedelta(hours=6)


class Rounds:
    """Starts with `start`, ends with `stop`; a round that fails leaves the next to try again."""

    def __init__(self, house: House, *, every: timedelta = EVERY) -> None:
        self._house, self._every = house, every
        self._stopped = threading.Event()
        self._thread = threading.Thread(target=self._run, name="baylore-rounds", daemon=True)

    def start(self) -> None:
        """Begin; the first round comes after the first wait, so that starting stays quick."""
        self._thread.start()

    def stop(self) -> None:
        """End after the round that is going on."""
        self._stopped.set()
        self._thread.join()

    def _run(self) -> None:
        while not self._stopped.wait(self._every.total_seconds()):
            self.round()

    def round(self) -> None:
        """Do all timed acts once."""
        try:
            tidy(self._house)
        except ServiceError as error:
            log.warning("round failed", reason=error.message)
