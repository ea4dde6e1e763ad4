"""Engine size and fuel out of a member's few words."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from baylore_kb.tokens import fold

_SIZE = re.compile(r"(?<![\d.])(\d{1,2}[.,]\d)(?!\d)\s*l?")
_CUBIC = re.compile(r"(?<!\d)(\d{3,4})\s*(?:cc|ccm|cm3)\b")
_DIESEL = re.compile(r"\b(?:diesel|[a-z]*tdi|[a-z]*cdi|hdi|dci|crdi|jtd|tdci|cdti|d4d|dsl)\b")
_PETROL = re.compile(r"\b(?:petrol|gasoline|gas|benzin|tsi|tfsi|gdi|mpi|vvt|unleaded|spark)\b")


@lru_cache(maxsize=20_000)
def engine_key(engine: str) -> Mapping[str, str]:
    """Size in litres ("1.6") and fuel of an engine text, as far as it says; empty text gives {}."""
    text = fold(engine)
    key: dict[str, str] = {}
    if size := _SIZE.search(text):
        key["size"] = size[1].replace(",", ".")
    elif cubic := _CUBIC.search(text):
        key["size"] = f"{int(cubic[1]) / 1000:.1f}"
    if _DIESEL.search(text):
        key["fuel"] = "diesel"
    elif _PETROL.search(text):
        key["fuel"] = "petrol"
    return key
