"""Say in a plain sentence what a component's sources did."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

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
    def median_price(self) -> float | None: ...
    @property
    def expected_cost(self) -> float | None: ...


def says(rows: Sequence[_Row], cheapest: _Row | None, *, undecided: bool, safety: bool, currency: str) -> str:
    """Each source's record in a sentence, then the cheapest way; empty for no rows."""
    records = [_record(row, currency) for row in rows]
    return " ".join([*records, *_advice(cheapest, undecided=undecided, safety=safety, currency=currency)])


def _record(row: _Row, currency: str) -> str:
    price = "" if row.median_price is None else f" {_money(row.median_price, currency)}"
    later = f", {row.failed_later} failed later" if row.failed_later else ""
    return f"{WORDS[row.source]}{price}: cured {row.cured} of {row.tried}{later}."


def _advice(cheapest: _Row | None, *, undecided: bool, safety: bool, currency: str) -> list[str]:
    if safety:
        return ["A safety part: choose what holds, not what is cheapest."]
    if cheapest is None:
        return []
    cost = _money(cheapest.expected_cost or 0.0, currency)
    way = f"Cheapest way to a working car: {WORDS[cheapest.source].lower()}, about {cost}"
    return [f"{way}, but too little is known to be sure." if undecided else f"{way}."]


def _money(amount: float, currency: str) -> str:
    return f"{amount:.0f} {currency}".strip()
