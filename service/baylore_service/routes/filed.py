"""A table as a file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from litestar import Response

from baylore_service.wire import tables


def filed(rows: Iterable[Mapping[str, Any]], form: tables.Form, *, name: str) -> Response[bytes]:
    """The rows in a form, to be saved under a name."""
    file = {"Content-Disposition": f'attachment; filename="{name}.{form}"'}
    return Response(tables.written(rows, form), media_type=tables.MEDIA[form], headers=file)
