"""Entity tags: a case's revision as ETag, If-Match before a change, 304 where nothing changed."""

from __future__ import annotations

import re
from typing import Annotated, Any

from litestar import Response
from litestar.params import HeaderParameter

from baylore_service.errors import PreconditionMissing
from baylore_service.wire import cases as c

TAG = re.compile(r'(?:W/)?"([^"]*)"')
IfMatch = Annotated[
    str | None,
    HeaderParameter(
        name="If-Match",
        max_length=64,
        pattern=r'^(\*|(W/)?"[\x21\x23-\x7e]*")$',
        description='The ETag of the case as it was read, such as "17".',
    ),
]
IfNoneMatch = Annotated[
    str | None,
    HeaderParameter(name="If-None-Match", max_length=500, description="Tags the client has."),
]
NEVER = -1
KEEP = "private, no-cache"


def expected_revision(if_match: str | None) -> int | None:
    """The revision an If-Match header names; None for no header or `*`; one no case has for other tags."""
    found = TAG.fullmatch(if_match or "")
    if found is None:
        return None
    return int(found[1]) if re.fullmatch(r"\d{1,18}", found[1]) else NEVER


def needed_revision(if_match: str | None) -> int | None:
    """As expected_revision. Raises PreconditionMissing without a header."""
    if if_match is None:
        raise PreconditionMissing(
            "the request does not say which version of the case it changes",
            field="If-Match",
            remedy="read the case and send its ETag as If-Match",
        )
    return expected_revision(if_match)


def known_to_client(tag: str, if_none_match: str | None) -> bool:
    """Whether the client has this tag already; weak comparison, as RFC 9110 wants for GET."""
    given = if_none_match or ""
    return given.strip() == "*" or tag.removeprefix("W/") in {f'"{each}"' for each in TAG.findall(given)}


def case_headers(case_id: str, revision: int, *, location: bool = False) -> dict[str, str]:
    """The headers of a case's answer: its ETag, and its address where it is new."""
    headers = {"ETag": f'"{revision}"', "Cache-Control": KEEP}
    return headers | ({"Location": f"/api/cases/{case_id}"} if location else {})


def tagged(case: c.Case, *, status: int = 200, location: bool = False) -> Response[c.Case]:
    """A case with its ETag, and its address where it is new."""
    headers = case_headers(case.id, case.revision, location=location)
    return Response(case, status_code=status, headers=headers)


def not_modified(tag: str) -> Response[Any]:
    """Says that what the client has is still so."""
    return Response(None, status_code=304, headers={"ETag": tag, "Cache-Control": KEEP})
