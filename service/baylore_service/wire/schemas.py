"""The schemas of everything that travels, as exact as the structs that read it."""

from __future__ import annotations

import inspect
from types import ModuleType
from typing import Any

import msgspec
from msgspec import Struct

from baylore_service.wire import (
    advice,
    alerts,
    cases,
    complaint,
    feed,
    office,
    own_lists,
    own_words,
    patterns,
    people,
    problem,
    sharing,
    trail,
    transfer,
    values,
)

MODULES = (
    advice,
    alerts,
    cases,
    complaint,
    feed,
    office,
    own_lists,
    own_words,
    patterns,
    people,
    problem,
    sharing,
    trail,
    transfer,
    values,
)
REFERENCE = "#/components/schemas/{name}"


def structs_of(module: ModuleType) -> list[type[Struct]]:
    """The structs a module defines."""
    found = (each for _, each in inspect.getmembers(module, inspect.isclass))
    return [each for each in found if issubclass(each, Struct) and each.__module__ == module.__name__]


def components() -> dict[str, Any]:
    """All schemas by name (JSON Schema 2020-12)."""
    kinds = [each for module in MODULES for each in structs_of(module)]
    _, found = msgspec.json.schema_components(kinds, ref_template=REFERENCE)
    # One reading by itself is judged as well as a list of them.
    listed = found["JudgeRequest"]
    return found | {"JudgeRequest": {"anyOf": [listed, {"$ref": REFERENCE.format(name="Reading")}]}}
