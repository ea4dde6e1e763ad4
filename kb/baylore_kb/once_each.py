"""Work that is done once for each object, whatever the object holds."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache, wraps
from typing import Generic, TypeVar

A = TypeVar("A")
B = TypeVar("B")
# Lists in use at one time: the shipped ones and those of the shops that have their own.
MOST_KEPT = 16


class _Same(Generic[A]):
    """An object as a key: the same object, not equal content."""

    def __init__(self, it: A) -> None:
        self.it = it

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.it is self.it

    def __hash__(self) -> int:
        return id(self.it)


def once_each(make: Callable[[A], B]) -> Callable[[A], B]:
    """`make` with its results kept for the last 16 objects it was asked of; safe among threads.

    Two threads that ask at the same time may both do the work.
    """

    @lru_cache(maxsize=MOST_KEPT)
    def made(key: _Same[A]) -> B:
        return make(key.it)

    @wraps(make)
    def once(it: A) -> B:
        return made(_Same(it))

    return once
