"""The data files of the demo shop, read once."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

PACKAGE = "baylore_service.demo"
# The C loader reads the same YAML some ten times faster; not every build of the library has it.
_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


@cache
def page(name: str) -> Any:
    """What the data file of that name holds; read only."""
    text = files(PACKAGE).joinpath(name).read_text(encoding="utf-8")
    return yaml.load(text, Loader=_LOADER)


def written_jobs() -> Iterator[dict[str, Any]]:
    """The jobs written by hand, in the order of their file names."""
    folder = files(PACKAGE).joinpath("jobs")
    for file in sorted(folder.iterdir(), key=lambda each: each.name):
        if file.name.endswith(".yaml"):
            yield yaml.load(file.read_text(encoding="utf-8"), Loader=_LOADER)
