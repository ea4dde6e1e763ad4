"""Spans: none unless asked for; sent to a collector where the package is there."""

from __future__ import annotations

import json
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from importlib.util import find_spec

import pytest
import structlog
from tests.service.app_fixtures import COMPLAINT, Floor

from baylore_service.desk.thinking import Thinkers
from baylore_service.errors import SettingRefused
from baylore_service.routes import journal
from baylore_service.tracing import Tracing, tracing

THERE = find_spec("opentelemetry") is not None and find_spec("opentelemetry.exporter") is not None
TRACE_ID = "0af7651916cd43dd8448eb211c80319c"


class Collector(HTTPServer):
    """Takes what is sent to it."""

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), Taking)
        self.taken: list[bytes] = []


class Taking(BaseHTTPRequestHandler):
    """One post."""

    server: Collector

    def do_POST(self) -> None:
        """Keep the body."""
        self.server.taken.append(self.rfile.read(int(self.headers["Content-Length"])))
        self.send_response(200)
        self.end_headers()

    def log_message(self, format: str, *args: object) -> None:
        """Nothing."""


@pytest.fixture
def collector() -> Iterator[Collector]:
    """A collector on loopback."""
    with Collector() as made:
        threading.Thread(target=made.serve_forever, daemon=True).start()
        yield made
        made.shutdown()


def test_without_the_setting_nothing_is_sent() -> None:
    quiet = Tracing()
    quiet.start("", "1")
    with quiet.span("request", parent={"traceparent": f"00-{TRACE_ID}-b7ad6b7169203331-01"}):
        pass
    quiet.close()


@pytest.mark.skipif(THERE, reason="OpenTelemetry is installed here")
def test_without_the_package_the_setting_is_refused_with_the_way_out() -> None:
    with pytest.raises(SettingRefused, match="not installed") as refused:
        Tracing().start("http://127.0.0.1:4318/v1/traces", "1")
    assert "baylore[trace]" in refused.value.remedy and refused.value.field == "BAYLORE_TRACE_TO"


@pytest.mark.skipif(not THERE, reason="OpenTelemetry is not installed (pip install 'baylore[trace]')")
def test_the_spans_of_a_question_go_below_the_one_it_names(floor: Floor, collector: Collector) -> None:
    tracing.start(f"http://127.0.0.1:{collector.server_port}/v1/traces", "1")
    parent = {"traceparent": f"00-{TRACE_ID}-b7ad6b7169203331-01"}
    assert floor.post("/advice", {"complaint": COMPLAINT}, headers=parent).status_code == 200
    tracing.close()
    sent = b"".join(collector.taken)
    for name in (b"request", b"think", b"store read", bytes.fromhex(TRACE_ID)):
        assert name in sent
    assert COMPLAINT.encode() not in sent and b"Ivo" not in sent


def test_what_is_logged_while_reckoning_names_the_request(capsys: pytest.CaptureFixture[str]) -> None:
    journal.configure()

    def reckon() -> None:
        structlog.get_logger("reckoning").warning("thought")

    with structlog.contextvars.bound_contextvars(request_id="r1"):
        Thinkers(1, 10).think(reckon).result()
    assert json.loads(capsys.readouterr().out)["request_id"] == "r1"
