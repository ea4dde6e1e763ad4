"""The one table from an error to a status, and the one shape every refusal is answered in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

import structlog
from litestar import Request, Response
from litestar.exceptions import HTTPException, ValidationException
from litestar.typing import FieldDefinition
from msgspec import UNSET, structs

from baylore_kb.errors import BayloreError
from baylore_service import errors as e
from baylore_service.routes.intake import allow, parameters_of
from baylore_service.wire.choices import choices_at
from baylore_service.wire.decode import in_plain_words
from baylore_service.wire.problem import Problem, Trouble

log = structlog.get_logger("baylore.problem")
PARAMETERS = {
    "in_state": "state",
    "photo_id": "id",
    "if_match": "If-Match",
    "if_none_match": "If-None-Match",
    "idempotency_key": "Idempotency-Key",
}
SHOWN = 200
REFUSED = "baylore_refused"
MEDIA_TYPE = "application/problem+json"


@dataclass(frozen=True, slots=True)
class Kind:
    """How a kind of refusal is answered; `slug` ends its type address."""

    status: int
    slug: str
    title: str
    remedy: str = ""


BY_ERROR: dict[type[Exception], Kind] = {
    BayloreError: Kind(422, "value-refused", "A value cannot be"),
    e.ServiceError: Kind(422, "refused", "The request cannot be done"),
    e.BadValue: Kind(422, "value-refused", "A value cannot be"),
    e.MalformedBody: Kind(400, "malformed-body", "The body cannot be read"),
    e.GoneAway: Kind(400, "gone-away", "The client went away"),
    e.NotSignedIn: Kind(401, "not-signed-in", "This device is not signed in"),
    e.WrongRole: Kind(403, "wrong-role", "This needs another role"),
    e.CodeRefused: Kind(403, "code-refused", "The sign-in code does not work"),
    e.NotFound: Kind(404, "not-found", "Not found"),
    e.TooSlow: Kind(408, "too-slow", "The body took too long"),
    e.AlreadyClosed: Kind(409, "already-closed", "The case is closed already"),
    e.JoinedElsewhere: Kind(409, "joined-elsewhere", "This record was joined into another case"),
    e.NotClosed: Kind(409, "not-closed", "The case is not closed"),
    e.NotSharing: Kind(409, "not-sharing", "The shop does not share cases"),
    e.AlreadyThere: Kind(409, "already-there", "There is one with this id already"),
    e.Busy: Kind(409, "busy", "It is going on already"),
    e.OutdatedClient: Kind(409, "outdated-client", "The client is older than the service"),
    e.InUse: Kind(409, "in-use", "Something else needs it"),
    e.LastManager: Kind(409, "last-manager", "A shop needs a manager"),
    e.StaleRevision: Kind(412, "stale-revision", "The case was changed meanwhile"),
    e.TooLarge: Kind(413, "too-large", "The body is too large"),
    e.WrongContentType: Kind(415, "wrong-content-type", "The kind of body does not fit"),
    e.ImportRefused: Kind(422, "import-refused", "The file cannot be taken as it is"),
    e.KeyReused: Kind(422, "idempotency-key-reused", "The idempotency key was used for something else"),
    e.PreconditionMissing: Kind(428, "precondition-missing", "If-Match is missing"),
    e.TooManyTries: Kind(429, "too-many-requests", "Too many requests"),
    e.TooManyCalls: Kind(429, "too-many-calls", "Too many requests"),
    e.DeliveryFailed: Kind(502, "delivery-failed", "A message was not taken"),
    e.Behind: Kind(503, "behind", "The store is behind what this device has seen"),
    e.NotReady: Kind(503, "not-ready", "The service is not ready"),
    e.Overloaded: Kind(503, "overloaded", "Too much is asked at once"),
    e.StoreTrouble: Kind(503, "store-trouble", "The store cannot be used"),
    e.StoreBusy: Kind(503, "store-busy", "The store is busy"),
    e.StoreReadOnly: Kind(503, "store-read-only", "The store cannot be written"),
    e.StoreAway: Kind(503, "store-away", "The store is away"),
    e.StoreDamaged: Kind(503, "store-damaged", "The store is damaged"),
    e.StoreFull: Kind(507, "store-full", "The disk of the store is full"),
}

BY_STATUS: dict[int, Kind] = {
    400: Kind(400, "malformed-request", "The request cannot be read", "see /api/openapi.json"),
    404: Kind(404, "not-found", "Not found", "check the address against /api/openapi.json"),
    405: Kind(
        405, "method-not-allowed", "This address has no such method", "use a method of the Allow header"
    ),
    413: Kind(
        413, "too-large", "The body is too large", "send less: 1 MB of JSON, 8 MB a photo, 64 MB a file"
    ),
    429: Kind(429, "too-many-requests", "Too many requests", "wait and try again"),
}
UNEXPECTED = Kind(
    500,
    "unexpected",
    "The service failed",
    "try again; if it stays, give the X-Request-Id of this answer to whoever runs the service",
)


KINDS = sorted({kind.slug for kind in (*BY_ERROR.values(), *BY_STATUS.values(), UNEXPECTED)})


def kind_of(error: Exception) -> Kind:
    """How this error is answered; anything not in a table is unexpected."""
    if isinstance(error, HTTPException):
        return BY_STATUS.get(error.status_code, UNEXPECTED)
    return next((BY_ERROR[cls] for cls in type(error).__mro__ if cls in BY_ERROR), UNEXPECTED)


def problem_response(problem: Problem, headers: dict[str, str] | None = None) -> Response[Problem]:
    """A refusal as it is answered."""
    return Response(problem, status_code=problem.status, media_type=MEDIA_TYPE, headers=headers or {})


def to_problem(kind: Kind, detail: str, *, field: str = "", remedy: str = "") -> Problem:
    """A problem of a kind; without a field it has none."""
    return Problem(
        type=f"/problems/{kind.slug}",
        title=kind.title,
        status=kind.status,
        detail=detail,
        remedy=remedy or kind.remedy or "see /api/openapi.json for what is accepted",
        field=field or UNSET,
    )


def on_refusal(request: Request[Any, Any, Any], error: BayloreError | e.ServiceError) -> Response[Problem]:
    """Answer what the desk or the engine refused."""
    kind = kind_of(error)
    problem = to_problem(kind, error.message, field=error.field, remedy=error.remedy)
    if isinstance(error, e.ImportRefused):
        problem = structs.replace(problem, errors=tuple(line_trouble(line) for line in error.lines[:SHOWN]))
    return problem_response(problem, _headers(error))


def line_trouble(line: e.BadLine) -> Trouble:
    """One bad line of a file."""
    place = f"line {line.line}: {line.field}" if line.field else f"line {line.line}"
    return Trouble(field=place, detail=line.detail, remedy=line.remedy)


def _headers(error: Exception) -> dict[str, str]:
    """Headers some refusals need: how to sign in, the tag a stale phone should read, where a case went."""
    if isinstance(error, e.NotSignedIn):
        return {"www-authenticate": 'Bearer realm="baylore"'}
    if isinstance(error, e.TooManyTries | e.TooManyCalls | e.NotReady | e.Overloaded | e.StoreTrouble):
        return {"retry-after": str(error.wait_s)}
    if isinstance(error, e.Behind):
        return {"retry-after": "2"}
    if isinstance(error, e.StaleRevision):
        return {"etag": f'"{error.current}"'}
    if isinstance(error, e.JoinedElsewhere):
        return {"location": f"/api/cases/{error.into}"}
    return {}


def on_http(request: Request[Any, Any, Any], error: HTTPException) -> Response[Problem]:
    """Answer what the framework refused."""
    if isinstance(error, ValidationException):
        return on_parameters(error, parameters_of(request.route_handler))
    if error.status_code not in BY_STATUS:
        return on_unexpected(request, error)
    kind = BY_STATUS[error.status_code]
    detail = f"{request.method} {request.url.path}: {kind.title.lower()}"
    return problem_response(to_problem(kind, detail), allowed(error.headers or {}))


def allowed(headers: dict[str, str]) -> dict[str, str]:
    """Headers of a refusal; where GET is allowed, HEAD is."""
    methods = headers.get("allow")
    return {"allow": allow(set(methods.split(", ")))} if methods else headers


def on_parameters(error: ValidationException, known: Mapping[str, FieldDefinition]) -> Response[Problem]:
    """Answer wrong query parameters and headers, each with its name."""
    troubles = tuple(_trouble(extra, known) for extra in error.extra or [] if isinstance(extra, dict))
    if not troubles:
        return problem_response(to_problem(BY_STATUS[400], error.detail))
    first = troubles[0]
    kind = BY_ERROR[e.BadValue]
    problem = Problem(
        type=f"/problems/{kind.slug}",
        title=kind.title,
        status=kind.status,
        detail=first.detail,
        remedy=first.remedy,
        field=first.field,
        errors=troubles if len(troubles) > 1 else UNSET,
    )
    return problem_response(problem)


def _trouble(extra: dict[str, Any], known: Mapping[str, FieldDefinition]) -> Trouble:
    """One wrong parameter in plain words."""
    name = str(extra.get("key", ""))
    field = PARAMETERS.get(name, name)
    _, (detail, remedy) = in_plain_words(str(extra.get("message", "")))
    choices = choices_at(known[name].annotation, "") if name in known else ()
    remedy = f"use one of: {', '.join(choices)}" if choices else remedy
    return Trouble(field=field, detail=f"{field}: {detail}", remedy=remedy)


def on_unexpected(request: Request[Any, Any, Any], error: Exception) -> Response[Problem]:
    """Log what nobody foresaw and answer without its innards."""
    log.error("unexpected", path=request.scope.get("path_template"), exc_info=error)
    return problem_response(to_problem(UNEXPECTED, "the service met an error it did not foresee"))


def noted(answer: Callable[[Request[Any, Any, Any], Any], Response[Problem]]) -> Any:
    """The handler, which also leaves the kind of refusal with the request, for the log and the figures."""

    def handler(request: Request[Any, Any, Any], error: Exception) -> Response[Problem]:
        response = answer(request, error)
        request.scope[REFUSED] = response.content.type.rpartition("/")[2]  # type: ignore[literal-required]
        return response

    return handler


HANDLERS: dict[int | type[Exception], Any] = {
    BayloreError: noted(on_refusal),
    e.ServiceError: noted(on_refusal),
    HTTPException: noted(on_http),
    Exception: noted(on_unexpected),
}
