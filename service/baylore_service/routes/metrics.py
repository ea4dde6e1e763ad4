"""Figures of this process, for Prometheus: requests by route template, and how the house stands."""

from __future__ import annotations

import platform
from collections.abc import Iterator
from typing import Any

from litestar import Request, Response, get
from prometheus_client import CollectorRegistry, Counter, Histogram, ProcessCollector
from prometheus_client.core import CounterMetricFamily, GaugeMetricFamily, Metric
from prometheus_client.exposition import CONTENT_TYPE_LATEST, generate_latest

from baylore_service.build import BUILD, VERSION
from baylore_service.desk.house import House
from baylore_service.routes import problems
from baylore_service.routes.access import TheHouse

UNKNOWN = "(unknown)"


class Meter:
    """The figures of one process."""

    def __init__(self) -> None:
        self.registry = CollectorRegistry()
        ProcessCollector(registry=self.registry)
        labels = ("method", "route", "status")
        self._requests = Counter("baylore_requests", "Requests answered", labels, registry=self.registry)
        self._refusals = Counter("baylore_refusals", "Refusals by kind", ("kind",), registry=self.registry)
        self._seconds = Histogram(
            "baylore_request_seconds", "Time to answer", ("method", "route"), registry=self.registry
        )
        # A figure that first appears as 1 has not risen: the first refusal of a kind would alarm nobody.
        for kind in problems.KINDS:
            self._refusals.labels(kind)

    def count(self, method: str, route: str, *, status: int, seconds: float) -> None:
        """Add one answered request."""
        self._requests.labels(method, route, str(status)).inc()
        self._seconds.labels(method, route).observe(seconds)

    def refuse(self, kind: str) -> None:
        """Add one refusal."""
        self._refusals.labels(kind).inc()

    def text(self, house: House) -> bytes:
        """All figures in the text format of Prometheus."""
        standing = CollectorRegistry()
        standing.register(Standing(house))
        return generate_latest(self.registry) + generate_latest(standing)


class Standing:
    """How a house stands at the moment it is asked; nothing here waits for the store."""

    def __init__(self, house: House) -> None:
        self._house = house

    def collect(self) -> Iterator[Metric]:
        """All figures of the house."""
        build = GaugeMetricFamily("baylore_build_info", "Always 1", labels=("version", "build", "python"))
        build.add_metric((VERSION, BUILD, platform.python_version()), 1)
        yield build
        yield from self._questions()
        yield from self._store()
        yield from self._checkup()
        failed = CounterMetricFamily("baylore_rounds_failed", "Timed acts that failed", labels=("act",))
        for act, count in self._house.failed_rounds.items():
            failed.add_metric((act,), count)
        yield failed

    def _questions(self) -> Iterator[Metric]:
        thinkers = self._house.thinkers
        yield GaugeMetricFamily(
            "baylore_questions_waiting", "Questions in line, with the one being answered", thinkers.waiting
        )
        yield CounterMetricFamily(
            "baylore_questions_refused", "Questions asked to come again", thinkers.refused
        )
        yield GaugeMetricFamily(
            "baylore_question_mean_seconds", "What one question takes of late, waiting apart", thinkers.mean_s
        )

    def _store(self) -> Iterator[Metric]:
        house = self._house
        ready = house.warmed and not house.draining
        yield GaugeMetricFamily(
            "baylore_warm", "1: every index is loaded and the process is not ending", ready
        )
        writable = house.store.trouble is None
        yield GaugeMetricFamily("baylore_store_writable", "1: the last write was kept", writable)
        indexes = house.hosts.loaded()
        yield GaugeMetricFamily("baylore_indexes", "Shops whose index is loaded", len(indexes))
        yield GaugeMetricFamily("baylore_index_cases", "Cases in the loaded indexes", sum(indexes))

    def _checkup(self) -> Iterator[Metric]:
        last = self._house.checkup
        at = last.at.timestamp() if last.at else 0
        yield GaugeMetricFamily(
            "baylore_verify_timestamp_seconds", "When the store was last looked through; 0: not yet", at
        )
        yield GaugeMetricFamily("baylore_verify_findings", "Things that look found wrong", len(last.bad))
        yield GaugeMetricFamily("baylore_verify_seconds", "What that look took", last.seconds)


@get("/metrics", sync_to_thread=False, include_in_schema=False, opt={"open": True})
def metrics(request: Request[Any, Any, Any], house: TheHouse) -> Response[bytes]:
    """The figures of this process."""
    meter: Meter = request.app.state.meter
    return Response(meter.text(house), media_type=CONTENT_TYPE_LATEST)
