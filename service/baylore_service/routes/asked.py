"""Query parameters that several routes take."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Annotated, Any
from urllib.parse import urlencode

from litestar import Request
from litestar.params import QueryParameter

from baylore_service.errors import BadValue
from baylore_service.wire.fields import LINE

DAY = r"[0-9]{4}-[0-9]{2}-[0-9]{2}"
TIME = r"[Tt ][0-9]{2}:[0-9]{2}(:[0-9]{2}(\.[0-9]{1,6})?)?([Zz]|[+-][0-9]{2}:[0-9]{2})?"
DATE = rf"^{DAY}({TIME})?$"

Since = Annotated[
    str | None, QueryParameter(pattern=DATE, max_length=40, description="From this day or time on (UTC).")
]
Until = Annotated[
    str | None, QueryParameter(pattern=DATE, max_length=40, description="Before this day or time (UTC).")
]
Cursor = Annotated[
    str | None,
    QueryParameter(pattern=r"^[A-Za-z0-9_=-]{1,300}$", description="`next` of the page before."),
]
PageSize = Annotated[int, QueryParameter(ge=1, le=100)]
AdviceSize = Annotated[int, QueryParameter(ge=1, le=50)]
Words = Annotated[str | None, QueryParameter(max_length=200, pattern=LINE)]


def moment(text: str | None, *, field: str) -> datetime | None:
    """A day or time of the query, in UTC where it names no zone. Raises BadValue for a day that is none."""
    if text is None:
        return None
    try:
        found = datetime.fromisoformat(text.upper())
        return found.replace(tzinfo=UTC) if found.tzinfo is None else found.astimezone(UTC)
    except (ValueError, OverflowError) as error:
        raise BadValue(
            f"{field}: {text!r} is no day or time",
            field=field,
            remedy="write it as 2026-03-11 or 2026-03-11T09:20:00Z",
        ) from error


def next_link(request: Request[Any, Any, Any], cursor: str | None) -> dict[str, str]:
    """The Link header of a page (RFC 8288): the same question with the next cursor; none on the last page."""
    if cursor is None:
        return {}
    asked = {name: value for name, value in request.query_params.items() if name != "cursor"}
    return {"Link": f'<{request.url.path}?{urlencode(asked | {"cursor": cursor})}>; rel="next"'}
