"""Counts and durations of requests by route template, for Prometheus."""

from __future__ import annotations

from typing import Any

from litestar import Request, Response, get
from prometheus_client import CollectorRegistry, Counter, Histogram
from prometheus_client.exposition import CONTENT_TYPE_LATEST, generate_latest

UNKNOWN = "(unknown)"


class Meter:
    """The figures of one process."""

    def __init__(self) -> None:
        self.registry = CollectorRegistry()
        labels = ("method", "route", "status")
        self._requests = Counter("baylore_requests", "Requests answered", labels, registry=self.registry)
        self._seconds = Histogram(
            "baylore_request_seconds", "Time to answer", ("method", "route"), registry=self.registry
        )

    def count(self, method: str, route: str, *, status: int, seconds: float) -> None:
        """Add one answered request."""
        self._requests.labels(method, route, str(status)).inc()
        self._seconds.labels(method, route).observe(seconds)

    def text(self) -> bytes:
        """All figures in the text format of Prometheus."""
        return generate_latest(self.registry)


@get("/metrics", sync_to_thread=False, include_in_schema=False, opt={"open": True})
def metrics(request: Request[Any, Any, Any]) -> Response[bytes]:
    """The figures of this process."""
    meter: Meter = request.app.state.meter
    return Response(meter.text(), media_type=CONTENT_TYPE_LATEST)
