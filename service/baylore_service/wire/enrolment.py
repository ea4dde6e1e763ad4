"""A sign-in code as a link and as a drawing to scan."""

from __future__ import annotations

import io
from datetime import datetime

import segno

from baylore_service.wire.people import Enrolment


def link_of(code: str, address: str) -> str:
    """The address a phone opens to sign in; the code stays behind the `#`, out of every server log."""
    return f"{address.rstrip('/')}/#/join/{code}"


def drawing_of(link: str) -> str:
    """The link as a QR drawing (SVG without styles, so that a strict policy shows it)."""
    out = io.BytesIO()
    segno.make(link, error="m").save(
        out,
        kind="svg",
        xmldecl=False,
        svgclass=None,
        lineclass=None,
        scale=6,
        border=4,
        dark="#000",
        light="#fff",
    )
    return out.getvalue().decode().strip()


def enrolment(code: str, expires: datetime, *, address: str) -> Enrolment:
    """What a manager shows to the new device."""
    link = link_of(code, address)
    return Enrolment(code, link, drawing_of(link), expires)
