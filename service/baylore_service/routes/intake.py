"""What happens to every request before its handler: OPTIONS, the client's form, kind of body, strict JSON."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from typing import Any

from litestar import Request, Response
from litestar.exceptions import InternalServerException, NotFoundException
from litestar.handlers import BaseRouteHandler
from litestar.params import QueryParameter
from litestar.typing import FieldDefinition

from baylore_service.errors import BadValue, GoneAway, MalformedBody, WrongContentType
from baylore_service.routes import formats
from baylore_service.wire.complaint import JudgeRequest, judge_request
from baylore_service.wire.decode import decode

JSON = ("application/json",)
MERGE_PATCH = ("application/json", "application/merge-patch+json")
LINES = ("application/x-ndjson", "application/jsonl", "application/json-lines")
PICTURES = ("image/jpeg", "image/png", "image/webp")


class StrictRequest(Request[Any, Any, Any]):
    """A request whose JSON is read straight into the handler's struct, without coercion."""

    async def body(self) -> bytes:
        """The whole body. Raises GoneAway where the client left before its end."""
        try:
            return await super().body()
        except InternalServerException as error:
            raise GoneAway("the client left before its request was whole") from error

    async def json(self) -> Any:
        """The body as the struct that the handler takes as `data`."""
        body = await self.body()
        kind = self.route_handler.parsed_fn_signature.parameters["data"].annotation
        return judge_request(body) if kind is JudgeRequest else decode(body, kind)


async def before(request: Request[Any, Any, Any]) -> Response[None] | None:
    """Answer OPTIONS, refuse a body of the wrong kind and a missing one."""
    if request.method == "OPTIONS":
        return options(request)
    # The document's router brings a page of its own for anything below it.
    if str(request.scope["path_template"]).startswith("/api/openapi.json/"):
        raise NotFoundException
    formats.check(request)
    check_query(request)
    accepts = accepted_kinds(request)
    if accepts:
        await check_body(request, accepts)
    return None


def check_query(request: Request[Any, Any, Any]) -> None:
    """Raises BadValue for a parameter nobody reads: a misspelt filter would answer everything."""
    handler = request.route_handler
    if not request.query_params or not handler.resolve_include_in_schema():
        return
    known = query_names(handler)
    for name in request.query_params:
        if name not in known:
            near = get_close_matches(name, known, n=1)
            remedy = f"did you mean {near[0]}?" if near else f"known here: {', '.join(known) or 'none'}"
            raise BadValue(f"{name[:60]!r} is no parameter of this address", field=name[:60], remedy=remedy)


@cache
def query_names(handler: BaseRouteHandler) -> tuple[str, ...]:
    """The query parameters a handler takes, itself or by what it depends on."""
    kinds = ((name, field.kwarg_definition) for name, field in parameters_of(handler).items())
    return tuple(kind.name or name for name, kind in kinds if isinstance(kind, QueryParameter))


@cache
def parameters_of(handler: BaseRouteHandler) -> Mapping[str, FieldDefinition]:
    """What a handler takes by name, with what those take that it depends on."""
    provided, found = handler.resolve_dependencies(), {}
    waiting = [handler.parsed_fn_signature]
    while waiting:
        taken = waiting.pop().parameters
        waiting += [provided[name].parsed_fn_signature for name in taken if name in provided]
        found.update(taken)
    return found


def options(request: Request[Any, Any, Any]) -> Response[None]:
    """All methods of an address: the framework lists only those of its first handler."""
    template = request.scope["path_template"]
    found = {
        method
        for route in request.app.routes
        if route.path_format == template
        for method in getattr(route, "methods", ())
    }
    return Response(None, status_code=204, headers={"Allow": allow(found)})


def allow(methods: set[str]) -> str:
    """The Allow header: HEAD goes where GET goes."""
    return ", ".join(sorted(methods | ({"HEAD"} if "GET" in methods else set())))


def accepted_kinds(request: Request[Any, Any, Any]) -> tuple[str, ...]:
    """The content types a handler takes; empty for one without a body."""
    handler = request.route_handler
    kinds: tuple[str, ...] = handler.opt.get("accepts", ())
    return kinds or (JSON if "data" in handler.parsed_fn_signature.parameters else ())


async def check_body(request: Request[Any, Any, Any], accepts: tuple[str, ...]) -> None:
    """Raises WrongContentType or MalformedBody for a body the handler cannot take."""
    kind, options = request.content_type
    charset = options.get("charset", "utf-8").strip('"').lower()
    if kind not in accepts or (kind in JSON and charset not in ("utf-8", "utf8", "us-ascii")):
        raise WrongContentType(
            f"a body of kind {kind or 'unknown'!r} cannot be taken here",
            field="Content-Type",
            remedy=f"send it in UTF-8 as {' or '.join(accepts)}",
        )
    if not await request.body():
        raise MalformedBody("the body is empty", remedy=f"send the data as {accepts[0]}")
