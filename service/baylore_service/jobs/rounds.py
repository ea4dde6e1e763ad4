"""One quiet thread that does the timed acts again and again until it is stopped."""

from __future__ import annotations

import threading
from collections.abc import Callable
from datetime import timedelta

import structlog

from baylore_service.desk.house import House
from baylore_service.desk.tidying import tidy
from baylore_service.errors import ServiceError

log = structlog.get_logger("baylore.rounds")
EVERY = timedelta(hours=6)
PATIENCE_S = 3.0


class Rounds:
    """Starts with `start`, ends with `stop`; what fails is logged and left to the next round."""

    def __init__(self, house: House, *, every: timedelta = EVERY) -> None:
        self._house, self._every = house, every
        self._stopped = threading.Event()
        self._thread = threading.Thread(target=self._run, name="baylore-rounds", daemon=True)

    def start(self) -> None:
        """Begin: the indexes first, so that the first question finds them built."""
        self._thread.start()

    def stop(self) -> None:
        """End after what is going on, or leave it to the end of the process: each act is whole or nothing."""
        self._stopped.set()
        self._thread.join(PATIENCE_S)

    def _run(self) -> None:
        attempt("warm", self._house.warm)
        while not self._stopped.wait(self._every.total_seconds()):
            attempt("tidy", lambda: tidy(self._house))


def attempt(name: str, act: Callable[[], object]) -> bool:
    """Do a timed act; False, with a line in the log, where the store did not let it."""
    try:
        act()
    except ServiceError as error:
        log.warning("round failed", act=name, reason=error.message)
        return False
    return True
