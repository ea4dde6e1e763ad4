"""Cursors of case lists: opaque to phones, good only with the filter they were made for."""

from __future__ import annotations

import base64
import binascii
import hashlib
import json
from dataclasses import asdict, replace
from datetime import datetime

from baylore_kb.tokens import fold
from baylore_service.errors import BadValue
from baylore_service.store.lists import Place
from baylore_service.store.records import CaseFile, CaseFilter


def folded(which: CaseFilter) -> CaseFilter:
    """The filter with its words as the store holds them."""
    return replace(
        which,
        make=fold(which.make.strip()) if which.make else None,
        model=fold(which.model.strip()) if which.model else None,
        text=fold(which.text) if which.text else None,
    )


def cursor_after(last: CaseFile, which: CaseFilter) -> str:
    """The cursor of what comes after a case."""
    text = json.dumps([last.opened.isoformat(), last.id, _mark(which)])
    return base64.urlsafe_b64encode(text.encode()).decode().rstrip("=")


def place_of(cursor: str | None, which: CaseFilter) -> Place | None:
    """Where a cursor points; None for no cursor. Raises BadValue."""
    if cursor is None:
        return None
    place, mark = _read(cursor)
    if mark != _mark(which):
        raise BadValue(
            "cursor: this cursor belongs to another filter",
            field="cursor",
            remedy="keep the filter while paging, or start again without a cursor",
        )
    return place


def _read(cursor: str) -> tuple[Place, str]:
    try:
        opened, id, mark = json.loads(base64.urlsafe_b64decode(cursor + "=" * (-len(cursor) % 4)))
        return Place(_moment(opened), str(id).replace("\0", "")), str(mark)
    except (binascii.Error, ValueError, TypeError) as error:
        raise BadValue(
            f"cursor: {cursor[:40]!r} is no cursor of this service",
            field="cursor",
            remedy="use `next` of the page before, or start without a cursor",
        ) from error


def _moment(text: str) -> datetime:
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError(text)
    return moment


def _mark(which: CaseFilter) -> str:
    fields = json.dumps(asdict(which), default=str, sort_keys=True)
    return hashlib.sha256(fields.encode()).hexdigest()[:12]
