"""Alerts of a source of parts that fails more often than the shop's parts do."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from baylore_kb.alerts.alert import Alert
from baylore_kb.parts import ComponentParts, SourceParts
from baylore_kb.parts.sentences import WORDS
from baylore_kb.trade.model import Trade

LEAST = 3


def failing_sources(found: Iterable[ComponentParts], trade: Trade) -> Iterator[Alert]:
    """Sources whose chance of failing is surely (95 %) above the rate over all parts of the shop.

    Three failures at least; what lay elsewhere is not the part's failure.
    """
    held = list(found)
    rate = _rate(held)
    for part in held:
        for row in part.sources:
            if failed(row) >= LEAST and 1.0 - row.high > rate:
                yield _alert(part.component, row, rate, trade)


def failed(row: SourceParts) -> int:
    """Fittings that count against the part."""
    return row.partly + row.no_change + row.failed_later - row.elsewhere


def _rate(found: Iterable[ComponentParts]) -> float:
    rows = [row for part in found for row in part.sources]
    bad = sum(failed(row) for row in rows)
    return (bad + 0.5) / (bad + sum(row.cured for row in rows) + 1.0)


def _alert(component: str, row: SourceParts, rate: float, trade: Trade) -> Alert:
    listed = trade.components.get(component)
    title = f"{listed.title if listed else component}, {WORDS[row.source].lower()}"
    judged = failed(row) + row.cured
    says = (
        f"{title}: {failed(row)} of {judged} fitted did not cure or failed later "
        f"({100 * (1 - row.high):.0f} to {100 * (1 - row.low):.0f} %); all parts here: {100 * rate:.0f} %."
    )
    figures = {"failed": float(failed(row)), "judged": float(judged), "low": 1.0 - row.high, "usual": rate}
    return Alert(
        kind="source",
        subject=f"source/component={component}/source={row.source}",
        title=title,
        says=says,
        level=failed(row),
        sure=True,
        figures=figures,
        key={"component": component, "source": row.source},
        cases=(),
    )
