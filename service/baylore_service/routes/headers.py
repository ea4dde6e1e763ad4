"""Headers that every answer carries."""

from __future__ import annotations

from litestar.datastructures import MutableScopeHeaders

from baylore_service.routes import formats

POLICY = "; ".join(
    (
        "default-src 'self'",
        "img-src 'self' blob: data:",
        "media-src 'self' blob:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)
SECURITY = {
    "content-security-policy": POLICY,
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cross-origin-opener-policy": "same-origin",
    "cross-origin-resource-policy": "same-origin",
    "permissions-policy": "camera=(self), microphone=(self), geolocation=(), payment=(), usb=()",
}


# Whoever opens an answer of the service in a browser gets a file, never a page of this origin.
DATA = 'attachment; filename="answer.json"'
JSON = ("application/json", "application/problem+json", "application/vnd.oai.openapi+json")
# A browser that came by TLS comes by it for a year; said only where the service's address is one of TLS.
ONLY_TLS = "max-age=31536000"


def add_to(headers: MutableScopeHeaders, request_id: str, *, secure: bool = False) -> None:
    """Put the headers on an answer; a handler's own policy and Cache-Control stay."""
    if secure:
        headers["strict-transport-security"] = ONLY_TLS
    for name, value in SECURITY.items():
        headers.setdefault(name, value)
    if headers.get("content-type", "").startswith(JSON):
        headers.setdefault("content-disposition", DATA)
    headers["x-request-id"] = request_id
    headers[formats.TOLD] = str(formats.LEAST)
    headers.setdefault("cache-control", "no-store")
