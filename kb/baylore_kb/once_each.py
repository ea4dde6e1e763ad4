"""Work that is done once for each object, whatever the object holds."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import TypeVar

A = TypeVar("A")
B = TypeVar("B")
C = TypeVar("C")
# Lists in use at one time: the shipped ones and those of the shops that have their own.
MOST_KEPT = 16


def once_each(make: Callable[[A], B]) -> Callable[[A], B]:
    """`make` with its results kept for the last 16 objects it was made of; safe among threads.

    Two threads that ask at the same time may both do the work.
    """
    # each object is kept with its result, so that no other can get its id meanwhile
    kept: dict[int, tuple[A, B]] = {}

    @wraps(make)
    def once(it: A) -> B:
        found = kept.get(id(it))
        if found is None:
            found = kept[id(it)] = (it, make(it))
            for oldest in list(kept)[:-MOST_KEPT]:
                kept.pop(oldest, None)
        return found[1]

    return once


def once_for_two(make: Callable[[A, B], C]) -> Callable[[A, B], C]:
    """`once_each` for two objects together."""

    @once_each
    def of_first(one: A) -> Callable[[B], C]:
        return once_each(lambda other: make(one, other))

    @wraps(make)
    def once(one: A, other: B) -> C:
        return of_first(one)(other)

    return once
