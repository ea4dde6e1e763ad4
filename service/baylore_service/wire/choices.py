"""What a field of a struct can be, for remedies that name the choices."""

from __future__ import annotations

import re
from collections.abc import Iterable
from difflib import get_close_matches
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from msgspec import Struct


def choices_at(kind: Any, path: str) -> tuple[str, ...]:
    """The words a field can be, by its path such as `parts[0].source`; empty where any text will do."""
    for name in names_of(path):
        kind = next((hints[name] for hints in map(get_type_hints, structs_in(kind)) if name in hints), None)
    return tuple(
        str(word) for each in plain_kinds(kind) if get_origin(each) is Literal for word in get_args(each)
    )


def near_fields(kind: Any, path: str, name: str) -> str:
    """The field that was likely meant by an unknown one at `path`, else all that are known there."""
    for step in names_of(path):
        kind = next((hints[step] for hints in map(get_type_hints, structs_in(kind)) if step in hints), None)
    known = sorted({field for struct in structs_in(kind) for field in struct.__struct_encode_fields__})
    near = get_close_matches(name, known, n=1)
    return f"did you mean {near[0]}?" if near else f"leave it out; known are {', '.join(known)}"


def names_of(path: str) -> list[str]:
    """The field names along a path, without the places in lists."""
    return [name for name in re.sub(r"\[\d*\]", "", path).split(".") if name]


def structs_in(kind: Any) -> list[type[Struct]]:
    """The structs a kind holds, also inside lists and unions."""
    return [each for each in plain_kinds(kind) if isinstance(each, type) and issubclass(each, Struct)]


def plain_kinds(kind: Any) -> Iterable[Any]:
    """A kind taken apart: without limits, unions into their members, lists into their items."""
    origin = get_origin(kind)
    if origin is Annotated:
        return plain_kinds(get_args(kind)[0])
    if origin in (Union, UnionType, tuple, list, dict):
        return [each for part in get_args(kind) for each in plain_kinds(part)]
    return [kind]
