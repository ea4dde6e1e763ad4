"""Say in a plain sentence what a component's sources did."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from baylore_kb.parts.choice import Way
from baylore_kb.values import SourceKind

WORDS: dict[SourceKind, str] = {
    "maker": "Maker",
    "aftermarket": "Copy",
    "rebuilt": "Rebuilt",
    "used": "Used",
    "own stock": "Own stock",
}


class _Row(Protocol):
    @property
    def source(self) -> SourceKind: ...
    @property
    def tried(self) -> int: ...
    @property
    def cured(self) -> int: ...
    @property
    def failed_later(self) -> int: ...
    @property
    def low(self) -> float: ...
    @property
    def high(self) -> float: ...
    @property
    def median_price(self) -> float | None: ...
    @property
    def per_1000_km(self) -> float | None: ...


def says(rows: Sequence[_Row], way: Way | None, *, safety: bool, currency: str) -> str:
    """Each source's record in a sentence, then the cheapest way; empty for no rows."""
    records = [_record(row, currency) for row in rows]
    return " ".join([*records, *_advice(way, safety=safety, currency=currency)])


def _record(row: _Row, currency: str) -> str:
    price = "" if row.median_price is None else f" {_money(row.median_price, currency)}"
    later = f", {row.failed_later} failed later" if row.failed_later else ""
    span = f"{100.0 * row.low:.0f} to {100.0 * row.high:.0f} %"
    life = "" if row.per_1000_km is None else f", {_money(row.per_1000_km, currency)} per 1000 km"
    return f"{WORDS[row.source]}{price}: cured {row.cured} of {row.tried}{later} ({span}){life}."


def _advice(way: Way | None, *, safety: bool, currency: str) -> list[str]:
    if safety:
        return ["A safety part: fit the maker's, cost may not decide."]
    if way is None:
        return []
    text = f"Cheapest way to a working car: {_steps(way)}, about {_money(way.cost, currency)}"
    if way.sure is None:
        return [f"{text}."]
    sure = f"{100.0 * way.sure:.0f} % sure"
    return [f"{text}, but too little is known to be sure ({sure})." if way.undecided else f"{text} ({sure})."]


def _steps(way: Way) -> str:
    first = WORDS[way.first].lower()
    if way.then is None:
        return first
    times = "once" if way.tries == 1 else f"up to {way.tries} times"
    return f"{first} {times}, then {WORDS[way.then].lower()}"


def _money(amount: float, currency: str) -> str:
    return f"{amount:.0f} {currency}".strip()
