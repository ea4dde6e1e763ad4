"""Idempotency keys: what was asked as a digest, the answer as kept bytes."""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from typing import Annotated, Any, TypeVar, cast

from litestar import Request, Response
from litestar.di import NamedDependency
from litestar.params import HeaderParameter, SkipValidation
from msgspec import Struct

from baylore_service.desk.twins import Closed
from baylore_service.routes.tags import case_headers, tagged
from baylore_service.store.records import CaseFile, Kept, Member, Receipt, Shop
from baylore_service.wire import show, show_twins
from baylore_service.wire.cases import Case, ClosedCase
from baylore_service.wire.decode import decode, encode

Key = Annotated[
    str | None,
    HeaderParameter(
        name="Idempotency-Key",
        min_length=1,
        max_length=200,
        pattern=r"^[\x21-\x7e]+$",
        description="Made by the client; the same key and request get the same answer.",
    ),
]
MaybeReceipt = NamedDependency[SkipValidation[Receipt | None]]


class KeptCase(Struct):
    """The part of a kept answer its headers are made from."""

    id: str
    revision: int


SHOWN: tuple[tuple[type, Callable[[Any], Any]], ...] = (
    (CaseFile, show.case),
    (Closed, show_twins.closed),
    (Member, show.member),
    (Shop, show.shop),
)
A = TypeVar("A", bound=Struct)


def render(result: object) -> bytes:
    """The body that is kept for the key."""
    shown = next(shown for kind, shown in SHOWN if isinstance(result, kind))
    return encode(shown(result))


async def provide_receipt(request: Request[Any, Any, Any], idempotency_key: Key = None) -> Receipt | None:
    """What to keep of this request; None without a key.

    If-Match is no part of the digest: a phone whose answer got lost reads the case anew before it
    sends again, and must get the kept answer all the same.
    """
    if idempotency_key is None:
        return None
    digest = hashlib.sha256(f"{request.method} {request.url.path}?{request.url.query}\n".encode())
    digest.update(await request.body())
    return Receipt(key=idempotency_key, digest=digest.hexdigest(), render=render)


def plain_answer(result: Member | Shop | Kept, kind: type[A], *, status: int = 200) -> Response[A]:
    """A member or the shop as answered, or the kept answer of the same request."""
    body = result.body if isinstance(result, Kept) else render(result)
    headers = {"Idempotent-Replay": "true"} if isinstance(result, Kept) and result.replayed else {}
    return Response(cast(A, body), status_code=status, headers=headers, media_type="application/json")


def answer(result: CaseFile | Kept, *, status: int = 200, location: bool = False) -> Response[Case]:
    """A case as answered, or the kept answer of the same request."""
    if isinstance(result, CaseFile):
        return tagged(show.case(result), status=status, location=location)
    kept = decode(result.body, KeptCase)
    headers = case_headers(kept.id, kept.revision, location=location)
    if result.replayed:
        headers["Idempotent-Replay"] = "true"
    body = cast(Case, result.body)
    return Response(body, status_code=status, headers=headers, media_type="application/json")


def closed_answer(result: Closed | Kept) -> Response[ClosedCase]:
    """A closed case with the other records of its visit, or the kept answer of the same request."""
    if isinstance(result, Kept):
        return cast(Response[ClosedCase], answer(result))
    body = show_twins.closed(result)
    return Response(body, headers=case_headers(body.id, body.revision), status_code=200)
