"""A column held against a list of values, in few different statements whatever the list's length."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import ColumnElement


def among(column: ColumnElement[str], values: Iterable[str]) -> ColumnElement[bool]:
    """Whether the column holds one of the values; never, for none.

    The list is filled up with its last value to 1, 2, 4, 8, ...: every connection keeps the statements it has
    seen made ready, and each length would be one more of up to 100 kB.
    """
    wanted: list[Any] = list(values)
    size = 1 << (len(wanted) - 1).bit_length() if wanted else 0
    return column.in_(wanted + wanted[-1:] * (size - len(wanted)))
