"""Whether a shop that lacks some tools can still do a test: its tool names are free words."""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import lru_cache

# Names a shop may use for what the lists name otherwise; common practice, no source.
ALSO = {
    "oscilloscope": ("scope",),
    "labscope": ("scope",),
    "multimeter": ("meter",),
    "voltmeter": ("meter",),
    "ohmmeter": ("meter",),
    "amp clamp": ("clamp",),
    "pressure gauge set": ("gauge set",),
    "manifold gauges": ("gauge set",),
    "refrigerant gauges": ("gauge set",),
    "scan tool": ("live data", "data", "command", "tool with commands", "diagnostic tool"),
    "code reader": ("live data", "data", "diagnostic tool"),
    "refrigerant machine": ("recovery machine",),
    "megohmmeter": ("insulation tester",),
    "endoscope": ("small camera",),
}
_WORD = re.compile(r"[^\W_]+")


def missing_tool(tools: Collection[str], lacks: Collection[str]) -> str | None:
    """The first tool that is needed and not there, by its listed name; None when all can be had.

    "A or B" is missing only when both are, "A and B" when either is. A lacking "scope" also means the
    "two-channel scope"; a lacking "low current clamp" does not mean every clamp. No tools need nothing.
    """
    gone = _names(frozenset(lacks))
    return next((tool for tool in tools if gone and _missing(tool, gone)), None)


@lru_cache(maxsize=8192)
def _missing(tool: str, gone: frozenset[frozenset[str]]) -> bool:
    if _words(tool) in gone:
        return True
    ways = re.split(r"\bor\b", tool.casefold())
    return all(any(_gone(part, gone) for part in re.split(r"\band\b", way)) for way in ways)


def _gone(name: str, gone: frozenset[frozenset[str]]) -> bool:
    words = _words(name)
    return any(lacking <= words for lacking in gone)


@lru_cache(maxsize=64)
def _names(lacks: frozenset[str]) -> frozenset[frozenset[str]]:
    """The words of each lacking tool and of what the lists call it; names without words are passed over."""
    found = {_words(name) for lacking in lacks for name in (lacking, *_listed(lacking))}
    return frozenset(words for words in found if words)


def _listed(lacking: str) -> tuple[str, ...]:
    words = _words(lacking)
    return next((names for also, names in ALSO.items() if _words(also) == words), ())


def _words(name: str) -> frozenset[str]:
    """Words in lower case, plural taken for singular."""
    return frozenset(_one(word) for word in _WORD.findall(name.casefold()))


def _one(word: str) -> str:
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word
