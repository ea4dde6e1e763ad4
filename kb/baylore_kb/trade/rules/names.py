"""Ids, titles and other names are unique within their kind."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from baylore_kb.trade.faults import Faults
from baylore_kb.trade.files import Rows
from baylore_kb.trade.rows import (
    CauseRow,
    CautionRow,
    ConditionRow,
    QuantityRow,
    SymptomRow,
    SystemRow,
    TestRow,
)

Titled = SystemRow | SymptomRow | ConditionRow | QuantityRow | TestRow | CauseRow | CautionRow


def check_names(rows: Rows, faults: Faults) -> None:
    """No id, title or further name stands twice in a list, and no id is both test and quantity."""
    lists: tuple[tuple[str, Sequence[Titled]], ...] = (
        ("systems.yaml", rows.systems),
        ("symptoms.yaml", rows.symptoms),
        ("quantities.yaml", rows.conditions),
        ("quantities.yaml", rows.quantities),
        ("tests.yaml", rows.tests),
        ("causes.yaml", rows.causes),
        ("cautions.yaml", rows.cautions),
    )
    for file, entries in lists:
        _once(file, "id", (row.id for row in entries), faults)
        _once(file, "title", (row.title.casefold() for row in entries), faults)
    _once("systems.yaml", "component", (c.id for s in rows.systems for c in s.components), faults)
    _further_names("quantities.yaml", rows.quantities, faults)
    _further_names("tests.yaml", rows.tests, faults)
    for clash in {row.id for row in rows.tests} & {row.id for row in rows.quantities}:
        faults.add("tests.yaml", clash, "names both a test and a quantity")


def _once(file: str, field: str, values: Iterable[str], faults: Faults) -> None:
    for value, times in Counter(values).items():
        if times > 1:
            faults.add(file, value, f"{field} occurs {times} times")


def _further_names(file: str, entries: Sequence[QuantityRow | TestRow], faults: Faults) -> None:
    names = [row.id for row in entries] + [name for row in entries for name in row.also]
    _once(file, "name among ids and `also`", names, faults)
