"""The form a phone writes in: one too old to be read rightly is refused, and told before it writes.

A client that says no form is a program and is taken at its word. Raise `SPOKEN` with a change of what
phones send, and `LEAST` only where what an older phone has waiting could be misread.
"""

from __future__ import annotations

from typing import Any

from litestar import Request

from baylore_service.errors import BadValue, OutdatedClient

SPOKEN = 1
LEAST = 1
GIVEN = "baylore-format"
TOLD = "baylore-least-format"
READING = frozenset({"GET", "HEAD", "OPTIONS"})
SIGNS = 6


def check(request: Request[Any, Any, Any], *, least: int | None = None) -> None:
    """Raises OutdatedClient for a write in a form older than the least, BadValue where it is no number."""
    given = request.headers.get(GIVEN)
    if given is None or request.method in READING:
        return
    if not (given.isascii() and given.isdigit() and len(given) <= SIGNS):
        raise BadValue(
            f"{given[:20]!r} is no form of a client",
            field="Baylore-Format",
            remedy="send a whole number, or leave the header out",
        )
    wanted = LEAST if least is None else least
    if int(given) < wanted:
        raise OutdatedClient(int(given), wanted)
