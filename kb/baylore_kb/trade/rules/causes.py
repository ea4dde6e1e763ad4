"""Causes: references, and a confirming test that can really confirm."""

from __future__ import annotations

from baylore_kb.trade.faults import Faults
from baylore_kb.trade.files import Rows
from baylore_kb.trade.model import Cause, LikelihoodRow, Test, Trade

TELLS_BY = 2.0


def check_causes(rows: Rows, trade: Trade, faults: Faults) -> None:
    """Each cause is well named, priced, shown by a symptom, and told apart by a test."""
    for cause in trade.causes.values():
        where = ("causes.yaml", cause.id)
        _references(cause, trade, where, faults)
        _numbers(cause, where, faults)
        _confirming(cause, trade, where, faults)
    _reached(trade, faults)
    _prices(rows, trade, faults)


def _references(cause: Cause, trade: Trade, where: tuple[str, str], faults: Faults) -> None:
    faults.unknown((cause.system,), trade.systems, where)
    faults.unknown((cause.component,), trade.components, where)
    faults.unknown((cause.mode,), trade.modes, where)
    faults.unknown(cause.symptoms, trade.symptoms, where)
    faults.unknown(cause.only_if, trade.traits, where)
    faults.unless(cause.id == f"{cause.component}.{cause.mode}", where, "id is not component.mode")
    faults.unless(bool(cause.symptoms), where, "shows as no symptom")


def _numbers(cause: Cause, where: tuple[str, str], faults: Faults) -> None:
    faults.unless(cause.weight >= 1, where, f"weight {cause.weight:g} below 1")
    faults.unless(0 < cause.labour_low_h < cause.labour_high_h, where, "labour hours are not 0 < low < high")
    faults.unless((cause.part_price or 0) > 0, where, "no rough part price in prices.yaml")


def _confirming(cause: Cause, trade: Trade, where: tuple[str, str], faults: Faults) -> None:
    faults.unknown((cause.confirm_test,), trade.tests, where)
    test = trade.tests.get(cause.confirm_test)
    if test is None:
        return
    offered = not test.for_symptoms or bool({*test.for_symptoms} & {*cause.symptoms})
    faults.unless(offered, where, f"confirm test {test.id!r} is never offered for its symptoms")
    row = next((row for row in test.likelihood if cause.id in row.causes), None)
    faults.unless(row is not None, where, f"is in no class of its confirm test {test.id!r}")
    if row is not None:
        faults.unless(_tells(row, test), where, f"{test.id!r} hardly tells it from anything else")


def _tells(row: LikelihoodRow, test: Test) -> bool:
    rest = next((other.p for other in test.likelihood if not other.causes), {})
    return any(p >= TELLS_BY * rest.get(outcome, 0.0) for outcome, p in row.p.items())


def _reached(trade: Trade, faults: Faults) -> None:
    shown = {symptom for cause in trade.causes.values() for symptom in cause.symptoms}
    for symptom in trade.symptoms:
        faults.unless(symptom in shown, ("symptoms.yaml", symptom), "no cause shows as it")
    told = {c for test in trade.tests.values() for row in test.likelihood for c in row.causes}
    for cause in trade.causes:
        faults.unless(cause in told, ("causes.yaml", cause), "no test tells it apart")
    having = {cause.system for cause in trade.causes.values()}
    for system in trade.systems:
        faults.unless(system in having, ("systems.yaml", system), "has no cause")


def _prices(rows: Rows, trade: Trade, faults: Faults) -> None:
    where = ("prices.yaml", "prices")
    faults.unknown(rows.prices.parts, trade.components, where)
    faults.unknown(rows.prices.by_mode, trade.modes, where)
    faults.unknown(rows.prices.by_cause, trade.causes, where)
