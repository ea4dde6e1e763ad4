"""Checks of texts, numbers and times."""

from __future__ import annotations

import math
from datetime import datetime, timedelta
from typing import NoReturn

from baylore_service.errors import BadValue

WORD, NAME, TITLE, SHORT, COMPLAINT, LONG = 60, 80, 200, 1000, 4000, 8000
SLACK = timedelta(minutes=10)  # phones' clocks run ahead
MOST_MONEY, MOST_MINUTES, MOST_NUMBER = 1e7, 1e5, 1e12


def refuse(detail: str, *, field: str, remedy: str) -> NoReturn:
    """Raise BadValue with the field before the detail."""
    raise BadValue(f"{field}: {detail}", field=field, remedy=remedy)


def text(value: str, *, most: int, field: str) -> str:
    """Text of at most so many characters, without what a database cannot keep."""
    if len(value) > most:
        refuse(f"the text has {len(value)} characters", field=field, remedy=f"write at most {most}")
    if "\0" in value or any("\ud800" <= sign <= "\udfff" for sign in value):
        refuse("the text holds a sign that is none", field=field, remedy="remove NUL and half characters")
    return value


def said(value: str, *, most: int, field: str) -> str:
    """Text that says something, without the blanks around it."""
    bare = text(value, most=most, field=field).strip()
    if not bare:
        refuse("nothing was said", field=field, remedy="write a few words")
    return bare


def names(values: tuple[str, ...], *, most: int, field: str) -> tuple[str, ...]:
    """So many short names at most, each said and, whatever its capitals and blanks, once."""
    if len(values) > most:
        refuse(f"{len(values)} entries are too many", field=field, remedy=f"give at most {most}")
    each = (
        " ".join(said(value, most=NAME, field=f"{field}[{at}]").split()) for at, value in enumerate(values)
    )
    found: dict[str, str] = {}
    for name in each:
        found.setdefault(name.casefold(), name)
    return tuple(found.values())


def number(value: float, *, low: float, high: float, field: str) -> float:
    """A finite number within bounds."""
    if not math.isfinite(value) or not low <= value <= high:
        refuse(f"{value:g} cannot be", field=field, remedy=f"give a number from {low:g} to {high:g}")
    return value


def money(value: float, *, field: str) -> float:
    """An amount of money."""
    return number(value, low=0, high=MOST_MONEY, field=field)


def minutes(value: float, *, field: str) -> float:
    """Minutes of work."""
    return number(value, low=0, high=MOST_MINUTES, field=field)


def not_ahead(moment: datetime | None, now: datetime, *, field: str) -> None:
    """Raises BadValue for a time ahead of the clock or without its zone."""
    if moment is None:
        return
    if moment.tzinfo is None:
        refuse(f"{moment.isoformat()} has no zone", field=field, remedy="give it in UTC, ending in Z")
    if moment > now + SLACK:
        refuse(f"{moment.isoformat()} lies in the future", field=field, remedy="give the time it happened")
