"""Work that is done once for each object, whatever the object holds."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar
from weakref import ref

A = TypeVar("A")
B = TypeVar("B")
C = TypeVar("C")
# Lists in use at one time: the shipped ones and those of the shops that have their own.
MOST_KEPT = 16


def once_each(make: Callable[[A], B]) -> Callable[[A], B]:
    """`make` with its results kept for the last 16 objects it was made of; safe among threads.

    Two threads that ask at the same time may both do the work. An object is not kept alive by it, unless it
    is of a kind that cannot be watched.
    """
    kept: dict[int, tuple[Callable[[], A | None], B]] = {}

    @wraps(make)
    def once(it: A) -> B:
        found = kept.get(id(it))
        # an id may be given anew once its owner is gone
        if found is None or found[0]() is not it:
            found = kept[id(it)] = (_watched(it), make(it))
            for oldest in list(kept)[:-MOST_KEPT]:
                kept.pop(oldest, None)
        return found[1]

    return once


def _watched(it: A) -> Callable[[], A | None]:
    """The object as long as it is in use elsewhere; those that cannot be watched, for good."""
    try:
        return ref(it)
    except TypeError:
        return lambda: it


def once_for_two(make: Callable[[A, B], C]) -> Callable[[A, B], C]:
    """`once_each` for two objects together."""

    @once_each
    def of_first(one: A) -> Callable[[B], C]:
        return once_each(lambda other: make(one, other))

    @wraps(make)
    def once(one: A, other: B) -> C:
        return of_first(one)(other)

    return once
