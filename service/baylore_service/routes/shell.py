"""What goes around every request, also around those no route knows: id, headers, HEAD, log, figures."""

from __future__ import annotations

import re
import time
from typing import Any
from uuid import uuid4

import structlog
from litestar.datastructures import MutableScopeHeaders
from litestar.types import ASGIApp, HTTPScope, Message, Receive, Scope, Send

from baylore_service.desk.thinking import Thinkers
from baylore_service.routes import headers
from baylore_service.routes.access import SEAT
from baylore_service.routes.metrics import UNKNOWN, Meter
from baylore_service.routes.problems import REFUSED
from baylore_service.tracing import tracing

log = structlog.get_logger("baylore.request")
GIVEN_ID = re.compile(rb"[\x21-\x7e]{1,64}")
ID = re.compile(r"[0-9a-f]{8}-(?:[0-9a-f]{4}-){3}[0-9a-f]{12}")
TRACE = frozenset({b"traceparent", b"tracestate"})
METHODS = frozenset({"GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE"})


def request_id_of(scope: Scope) -> str:
    """The id the client or the proxy gave, else a new one."""
    given = next((value for name, value in scope["headers"] if name == b"x-request-id"), b"")
    return given.decode() if GIVEN_ID.fullmatch(given) else uuid4().hex


class Exchange:
    """One request on its way through: sees the answer pass and adds what every answer carries."""

    def __init__(self, scope: HTTPScope, send: Send, *, secure: bool = False) -> None:
        self.scope, self._send, self._secure = scope, send, secure
        self.request_id = request_id_of(scope)
        self.method: str = scope["method"]
        self.status = 500
        self._started = time.perf_counter()

    async def send(self, message: Message) -> None:
        """Pass a message on; a HEAD answer keeps its headers and loses its body."""
        if message["type"] == "http.response.start":
            self.status = message["status"]
            headers.add_to(MutableScopeHeaders.from_message(message), self.request_id, secure=self._secure)
        if message["type"] == "http.response.body" and self.method == "HEAD":
            message["body"] = b""
        await self._send(message)

    def finish(self, meter: Meter) -> None:
        """Write the log line and the figures; neither holds texts, names or tokens."""
        seconds = time.perf_counter() - self._started
        # A method nobody knows would make a figure of its own for each spelling.
        method = self.method if self.method in METHODS else UNKNOWN
        route = str(self.scope.get("path_template") or UNKNOWN)
        meter.count(method, route, status=self.status, seconds=seconds)
        refused = self.scope.get(REFUSED)
        if isinstance(refused, str):
            meter.refuse(refused)
        log.info(
            "request",
            request_id=self.request_id,
            method=method,
            route=route,
            status=self.status,
            ms=round(seconds * 1000, 1),
            **({"refused": refused} if refused else {}),
            **who(self.scope),
            **what(self.scope),
        )


def who(scope: HTTPScope) -> dict[str, Any]:
    """Ids of the asking shop, member and device, where known."""
    actor = scope.get("user")
    if actor is None:
        return {}
    return {"shop": actor.shop.id, "member": actor.member.id, "device": actor.device.id}


def what(scope: HTTPScope) -> dict[str, str]:
    """Ids of the things asked for, by the names the route gives them; words a route may hold are left out."""
    named = scope.get("path_params") or {}
    return {name: str(value) for name, value in named.items() if ID.fullmatch(str(value))}


def parent_of(scope: Scope) -> dict[str, str]:
    """The span this request belongs to, as its headers name it (W3C Trace Context)."""
    return {name.decode(): value.decode("latin-1") for name, value in scope["headers"] if name in TRACE}


async def pass_through(app: ASGIApp, meter: Meter, exchange: Exchange, receive: Receive) -> None:
    """Run the app for one exchange. HEAD runs as GET, as RFC 9110 wants the same headers."""
    if exchange.method == "HEAD":
        exchange.scope["method"] = "GET"
    with (
        structlog.contextvars.bound_contextvars(request_id=exchange.request_id),
        tracing.span("request", parent=parent_of(exchange.scope), request_id=exchange.request_id),
    ):
        try:
            await app(exchange.scope, receive, exchange.send)
        finally:
            seat = exchange.scope.get(SEAT)
            if isinstance(seat, Thinkers):
                seat.leave_seat()
            exchange.finish(meter)
