"""Spans for OpenTelemetry: off unless a setting says where they go, and the package is there."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import AbstractContextManager, contextmanager, nullcontext
from typing import Any, Protocol

from baylore_service.errors import SettingRefused

try:
    from opentelemetry import propagate, trace
    from opentelemetry.exporter.otlp.proto.http.trace_exporter import OTLPSpanExporter
    from opentelemetry.sdk.resources import Resource
    from opentelemetry.sdk.trace import TracerProvider
    from opentelemetry.sdk.trace.export import BatchSpanProcessor
except ImportError:
    trace = None

Value = str | int | float | bool


class Spans(Protocol):
    """Opens spans."""

    def span(self, name: str, parent: Mapping[str, str], values: Mapping[str, Value]) -> Any:
        """A span for as long as the block runs."""

    def close(self) -> None:
        """Send what is left."""


class NoSpans:
    """What runs unless tracing is on."""

    def span(
        self, name: str, parent: Mapping[str, str], values: Mapping[str, Value]
    ) -> AbstractContextManager[None]:
        """Nothing."""
        return nullcontext()

    def close(self) -> None:
        """Nothing."""


class SentSpans:
    """Spans sent in batches by a thread of their own, so that nobody waits for the collector."""

    def __init__(self, address: str, version: str) -> None:
        resource = Resource.create({"service.name": "baylore", "service.version": version})
        self._provider = TracerProvider(resource=resource)
        self._provider.add_span_processor(BatchSpanProcessor(OTLPSpanExporter(endpoint=address)))
        self._tracer = self._provider.get_tracer("baylore")

    @contextmanager
    def span(self, name: str, parent: Mapping[str, str], values: Mapping[str, Value]) -> Iterator[None]:
        """A span below the one that is open, or below the one a `traceparent` header names."""
        context = propagate.extract(dict(parent)) if parent else None
        with self._tracer.start_as_current_span(name, context=context, attributes=dict(values)):
            yield

    def close(self) -> None:
        """Send what is left."""
        self._provider.shutdown()


class Tracing:
    """Where the spans of this process go; changed once at a start and once at an end."""

    def __init__(self) -> None:
        self._spans: Spans = NoSpans()

    def start(self, address: str, version: str) -> None:
        """Send spans to an OTLP/HTTP address; empty: none. Raises SettingRefused without the package."""
        if not address:
            return
        if trace is None:
            raise SettingRefused(
                f"BAYLORE_TRACE_TO is {address!r}, and OpenTelemetry is not installed",
                field="BAYLORE_TRACE_TO",
                remedy="pip install 'baylore[trace]', or leave BAYLORE_TRACE_TO empty",
            )
        self._spans = SentSpans(address, version)

    def span(self, name: str, *, parent: Mapping[str, str] | None = None, **values: Value) -> Any:
        """A span for as long as the block runs; neither texts nor names go into `values`."""
        return self._spans.span(name, parent or {}, values)

    def close(self) -> None:
        """Send what is left and stop."""
        spans, self._spans = self._spans, NoSpans()
        spans.close()


tracing = Tracing()
