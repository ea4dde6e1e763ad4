"""Memory that the process holds and does not use, kept small and given back to the system.

The C library gives each thread a heap of its own; what one has freed, no other uses. With the threads that
answer, a third of the growth while cases came was such memory. A library without these calls is left alone.
"""

from __future__ import annotations

import ctypes
from typing import Any

# M_ARENA_MAX of malloc.h.
_ARENAS, _ENOUGH = -8, 2
_library = ctypes.CDLL(None)


def share_heaps() -> None:
    """Let all threads share two heaps; for the start, before there are many threads."""
    _call("mallopt", _ARENAS, _ENOUGH)


def give_back() -> None:
    """Give the system what is free; takes some milliseconds."""
    _call("malloc_trim", 0)


def _call(name: str, *given: int) -> None:
    function: Any = getattr(_library, name, None)
    if function is not None:
        function(*given)
