"""The phone client's files: pages and worker always fresh, hashed assets for ever."""

from __future__ import annotations

import hashlib
import mimetypes
from pathlib import Path
from typing import Any

from litestar import Request, Response, get
from litestar.exceptions import NotFoundException
from litestar.params import FromPath

PACKAGE = Path(__file__).resolve().parents[1]
PLACES = (PACKAGE / "client", PACKAGE.parents[1] / "pwa" / "dist")
FRESH, FOR_EVER = "no-cache", "public, max-age=31536000, immutable"
TYPES = {".webmanifest": "application/manifest+json", ".js": "text/javascript", ".wasm": "application/wasm"}
NOT_BUILT = """<!doctype html>
<html lang="en"><head><meta charset="utf-8"><title>Baylore</title>
<meta name="viewport" content="width=device-width, initial-scale=1"></head>
<body><h1>The service runs, the phone client is not built</h1>
<p>Build it in the checkout with Node 20 or newer, then load this page again:</p>
<pre>cd pwa &amp;&amp; npm ci &amp;&amp; npm run build</pre>
<p>The address of the service for programs is <a href="/api/openapi.json">/api/openapi.json</a>.</p>
</body></html>
"""


def client_folder() -> Path | None:
    """Where the built client is: in the wheel, else in the checkout; None when it is not built."""
    return next((place for place in PLACES if (place / "index.html").is_file()), None)


def pick(folder: Path, path: str) -> Path:
    """The file of an address; the page itself for addresses the client routes. Raises NotFoundException."""
    name = path.strip("/")
    file = (folder / name).resolve()
    if name and file.is_relative_to(folder.resolve()) and file.is_file():
        return file
    # A missing script must not be answered with a page: the browser would run HTML.
    if "." in name.rpartition("/")[2] or name.startswith("assets/"):
        raise NotFoundException
    return folder / "index.html"


def media_type_of(file: Path) -> str:
    """The kind of a file; the framework adds the character set of text."""
    return TYPES.get(file.suffix) or mimetypes.guess_type(file.name)[0] or "application/octet-stream"


def answer_file(file: Path, *, known: str, hashed: bool) -> Response[bytes]:
    """The bytes with their tag, or 304 where the browser has them."""
    data = file.read_bytes()
    tag = f'"{hashlib.sha256(data).hexdigest()[:32]}"'
    headers = {"etag": tag, "cache-control": FOR_EVER if hashed else FRESH}
    if tag in known:
        return Response(b"", status_code=304, headers=headers)
    return Response(data, media_type=media_type_of(file), headers=headers)


def serve(request: Request[Any, Any, Any], path: str) -> Response[bytes]:
    """A file of the client, or the page that says how to build it."""
    folder = client_folder()
    if folder is None and path.strip("/"):
        raise NotFoundException
    if folder is None:
        return Response(NOT_BUILT.encode(), media_type="text/html", status_code=200)
    file = pick(folder, path)
    hashed = file.is_relative_to((folder / "assets").resolve())
    return answer_file(file, known=request.headers.get("if-none-match", ""), hashed=hashed)


@get("/", sync_to_thread=True, include_in_schema=False, opt={"open": True})
def page(request: Request[Any, Any, Any]) -> Response[bytes]:
    """The client's page."""
    return serve(request, "")


@get("/{path:path}", sync_to_thread=True, include_in_schema=False, opt={"open": True})
def file(request: Request[Any, Any, Any], path: FromPath[Path]) -> Response[bytes]:
    """A file of the client, or its page."""
    return serve(request, str(path))
