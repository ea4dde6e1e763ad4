"""The server: its processes, how they end, and its own log in the form of ours."""

from __future__ import annotations

import gc
import logging
import os
import sys
import threading
from contextlib import suppress
from functools import partial
from typing import Any

import structlog
from granian import Granian
from granian.constants import Interfaces, Loops, RuntimeModes
from granian.http import HTTP1Settings, HTTP2Settings

from baylore_service import heap
from baylore_service.app import DRAIN, create_app
from baylore_service.routes import journal
from baylore_service.settings import Settings

SWITCH_S = 0.001
# After how many new objects, young rounds and middle rounds the collector of garbage walks its three ages.
# The oldest takes ten milliseconds of everybody's time and hardly ever finds any: a tenth as often as usual.
GARBAGE = (700, 10, 100)
HEADER_MS, HEADER_BYTES = 10_000, 65_536
# What is in flight is answered; what does not come to an end by then is cut off.
END_LIMIT_S = 30
LOG: dict[str, Any] = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"json": {"class": "baylore_service.serving.ServerLog"}},
    "loggers": {"_granian": {"handlers": ["json"], "level": "INFO", "propagate": False}},
}


class ServerLog(logging.Handler):
    """Writes the server's own lines as JSON, like all others."""

    def emit(self, record: logging.LogRecord) -> None:
        """Write one line."""
        write = structlog.get_logger("baylore.server").log
        write(record.levelno, record.getMessage(), pid=os.getpid())


class Server(Granian):  # type: ignore[misc,valid-type]  # one of two, by the kind of Python
    """Ends in two steps: first its processes are not ready any more, then they answer the rest and go."""

    drain_s = 0

    def signal_handler_interrupt(self, *args: Any, **kwargs: Any) -> None:
        """Begin to end. A second signal ends at once."""
        first, self.drain_s = self.drain_s, 0
        for worker in self.wrks:
            with suppress(ProcessLookupError):
                os.kill(worker.inner.pid, DRAIN)
        end = super().signal_handler_interrupt
        if first:
            threading.Timer(first, end).start()
        else:
            end()


def load_app(settings: Settings) -> Any:
    """What each server process runs."""
    # Long reckoning gives way to the event loop sooner than by default.
    sys.setswitchinterval(SWITCH_S)
    gc.set_threshold(*GARBAGE)
    heap.share_heaps()
    return create_app(settings)


def serve(settings: Settings) -> None:
    """Serve until stopped."""
    journal.configure(settings.log_level)
    server = Server(
        "baylore_service.app:create_app",
        address=settings.host,
        port=settings.port,
        interface=Interfaces.ASGI,
        runtime_mode=RuntimeModes.mt,
        loop=Loops.uvloop,
        workers=settings.workers,
        workers_kill_timeout=END_LIMIT_S,
        respawn_failed_workers=True,
        log_access=False,
        http1_settings=HTTP1Settings(header_read_timeout=HEADER_MS, max_buffer_size=HEADER_BYTES),
        http2_settings=HTTP2Settings(max_headers_size=HEADER_BYTES, max_concurrent_streams=64),
        log_dictconfig=LOG,
    )
    server.drain_s = settings.drain_s
    server.serve(target_loader=partial(load_app, settings), wrap_loader=False)
