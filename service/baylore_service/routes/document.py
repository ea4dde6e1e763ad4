"""The OpenAPI document as it is drawn from the routes and served."""

from __future__ import annotations

from typing import Any

from litestar import Request
from litestar.openapi.config import OpenAPIConfig
from litestar.openapi.plugins import JsonRenderPlugin
from litestar.openapi.spec import Components, SecurityScheme, Tag

from baylore_service.routes.finish import finished
from baylore_service.wire.decode import encode

BEARER = "deviceToken"
TAGS = {
    "advice": "What was it before, and what to test next.",
    "cases": "Complaints on vehicles, from open to closed.",
    "steps": "What was tested, measured and fitted.",
    "photos": "Pictures of a case.",
    "patterns": "What keeps failing, and which parts cure.",
    "alerts": "What the manager hears of unasked, and where else it is sent.",
    "office": "Money and minutes, the shelf, and what the memory is worth.",
    "offline copies": "What phones keep.",
    "own lists": "The shop's own tests, causes and minutes.",
    "sharing": "Cases of other shops that agree, and what of ours they may see.",
    "shop": "Who asks, and the shop's habits.",
    "members": "The people of the shop.",
    "devices": "Phones and tablets.",
    "transfer": "The whole memory out and in.",
}


class Document(JsonRenderPlugin):
    """Serves the finished document."""

    def __init__(self) -> None:
        super().__init__(path="/")
        self._body = b""

    def render(self, request: Request[Any, Any, Any], openapi_schema: dict[str, Any]) -> bytes:
        """The document, finished once."""
        self._body = self._body or encode(finished(openapi_schema))
        return self._body


def config(version: str) -> OpenAPIConfig:
    """What the framework needs to draw the document; no pages that load scripts from elsewhere."""
    return OpenAPIConfig(
        title="Baylore",
        version=version,
        summary="A repair shop's fault memory.",
        path="/api/openapi.json",
        render_plugins=[Document()],
        use_handler_docstrings=True,
        components=Components(security_schemes={BEARER: SecurityScheme(type="http", scheme="bearer")}),
        security=[{BEARER: []}],
        tags=[Tag(name=name, description=text) for name, text in TAGS.items()],
    )
