"""Tests: references, outcomes, and chances that sum to one without 0 and 1."""

from __future__ import annotations

from collections import Counter

from baylore_kb.trade.faults import Faults
from baylore_kb.trade.files import Rows
from baylore_kb.trade.model import LikelihoodRow, OutcomeRule, Test, Trade
from baylore_kb.trade.rules.quantities import tried

ELSE = "anything else"
KEYS = ("off", "on", "engine running", "cranking")
SUM_SLACK = 0.0101


def check_tests(rows: Rows, trade: Trade, faults: Faults) -> None:
    """Each test can be offered, done, read and reasoned with."""
    for test in trade.tests.values():
        where = ("tests.yaml", test.id)
        _references(test, trade, where, faults)
        _doing(test, where, faults)
        _outcomes(test, trade, where, faults)
        _chances(test, trade, where, faults)
    used = {row.system for row in rows.tests}
    for system in trade.systems:
        faults.unless(system in used, ("systems.yaml", system), "has no test")


def _references(test: Test, trade: Trade, where: tuple[str, str], faults: Faults) -> None:
    systems = {*trade.systems, "any"}
    faults.unknown((test.system, *test.offer_for), systems, where)
    faults.unknown(test.for_symptoms, trade.symptoms, where)
    faults.unknown(test.only_if, trade.traits, where)
    faults.unknown(test.cautions, trade.cautions, where)
    faults.unknown((test.quantity, *test.also_read), trade.quantities, where)
    offered = test.system in test.offer_for or test.offer_for == ("any",)
    faults.unless(offered, where, "is not offered for its own system")


def _doing(test: Test, where: tuple[str, str], faults: Faults) -> None:
    faults.unless(2 <= len(test.steps) <= 6, where, f"{len(test.steps)} steps, want 2 to 6")
    faults.unless(1 <= test.skill <= 4, where, f"skill {test.skill}, want 1 to 4")
    faults.unless(test.do_min >= 1 and test.setup_min >= 0, where, "minutes to do it below 1")
    faults.unless(bool(test.tools), where, "no tools")
    faults.unless(test.state.key in KEYS, where, f"key state {test.state.key!r}")


def _outcomes(test: Test, trade: Trade, where: tuple[str, str], faults: Faults) -> None:
    ids = [outcome.id for outcome in test.outcomes]
    faults.unless(len(set(ids)) == len(ids) >= 2, where, f"outcomes {ids}")
    for outcome in test.outcomes:
        if outcome.rule is not None:
            _rule(outcome.rule, trade, where, faults)


def _rule(rule: OutcomeRule, trade: Trade, where: tuple[str, str], faults: Faults) -> None:
    faults.unknown((rule.quantity,), trade.quantities, where)
    quantity = trade.quantities.get(rule.quantity)
    if quantity is None:
        return
    faults.unless(
        rule.unit == quantity.unit, where, f"rule in {rule.unit}, {quantity.id} is in {quantity.unit}"
    )
    bounds = [b for b in (rule.min, rule.max, rule.above, rule.below) if b is not None]
    faults.unless(bool(bounds), where, "a reading rule without a bound")
    for bound in bounds:
        tried(bound, quantity.conditions, where, faults)


def _chances(test: Test, trade: Trade, where: tuple[str, str], faults: Faults) -> None:
    for row in test.likelihood:
        faults.unknown(row.causes, trade.causes, where)
        _row(test, row, where, faults)
    rest = [row.name for row in test.likelihood if not row.causes]
    faults.unless(rest == [ELSE], where, f"wants exactly one class {ELSE!r}, has {rest}")
    told = [row.name for row in test.likelihood if row.causes]
    faults.unless(list(test.decides) == told, where, "decides does not match the classes")
    for cause, times in Counter(c for row in test.likelihood for c in row.causes).items():
        faults.unless(times == 1, where, f"cause {cause!r} stands in {times} classes")


def _row(test: Test, row: LikelihoodRow, where: tuple[str, str], faults: Faults) -> None:
    named = list(row.p) == [outcome.id for outcome in test.outcomes]
    faults.unless(named, where, f"class {row.name!r} does not name each outcome in order")
    total = sum(row.p.values())
    faults.unless(abs(total - 1.0) <= SUM_SLACK, where, f"class {row.name!r} sums to {total:g}, not 1")
    open_ended = all(0.0 < p < 1.0 for p in row.p.values())
    faults.unless(open_ended, where, f"class {row.name!r} holds a 0 or a 1")
