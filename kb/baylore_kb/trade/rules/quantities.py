"""Conditions and quantities: units, ranges, and the ladder of verdicts."""

from __future__ import annotations

from itertools import pairwise

from baylore_kb.errors import BadFormula
from baylore_kb.expressions import names, value
from baylore_kb.trade.faults import Faults
from baylore_kb.trade.files import Rows
from baylore_kb.trade.model import Quantity, Trade
from baylore_kb.trade.rows import ConditionRow
from baylore_kb.units import known, same_kind

# An ordinary value for each condition that a formula may use, to try the formula on.
ORDINARY: dict[str, float | str] = {
    "ambient_c": 28,
    "label_grams": 500,
    "battery_temp_c": 20,
    "battery_type": "flooded",
    "engine_litres": 1.8,
    "battery_v": 12.6,
    "crank_v": 10.4,
    "rated_a": 120,
    "part_temp_c": 20,
    "cap_rating_kpa": 108,
    "set_kpa": 350,
    "desired_bar": 300,
    "start_kpa": 350,
    "altitude_m": 200,
    "engine_rpm": 2500,
    "vehicle_speed_kmh": 40,
    "placard_kpa": 230,
    "tyre_temp_c": 20,
    "rest_hours": 0,
    "load_a": 10,
    "drop_limit_v": 0.1,
    "low_ohm": 3,
    "high_ohm": 5,
}
KINDS = ("constant", "formula", "table", "maker")


def check_quantities(rows: Rows, trade: Trade, faults: Faults) -> None:
    """Units are known, ranges lie inside the hard limits and ladders climb."""
    for condition in rows.conditions:
        if condition.unit is not None:
            faults.unless(
                known(condition.unit), ("quantities.yaml", condition.id), f"unit {condition.unit!r}"
            )
        _usual(condition, faults)
    for quantity in trade.quantities.values():
        _quantity(quantity, trade, faults)


def _usual(condition: ConditionRow, faults: Faults) -> None:
    limits = [bound for bound in condition.usual if isinstance(bound, float)]
    span = len(limits) == len(condition.usual) == 2 and limits[0] < limits[1]
    right = span if condition.unit else not limits
    faults.unless(right or not condition.usual, ("quantities.yaml", condition.id), "usual is no low < high")


def _quantity(q: Quantity, trade: Trade, faults: Faults) -> None:
    where = ("quantities.yaml", q.id)
    faults.unless(q.unit in q.accepted_units, where, "its own unit is not accepted")
    for name in q.accepted_units:
        faults.unless(same_kind(name, q.unit), where, f"unit {name!r} is no {q.unit}")
    faults.unknown(q.conditions, trade.conditions, where)
    faults.unless(q.hard_low < q.hard_high, where, "hard limits are not low < high")
    faults.unless(bool(q.source and q.test_point), where, "source or test point missing")
    faults.unless(q.expected.kind in KINDS, where, f"kind {q.expected.kind!r} of expected")
    if q.expected.kind == "table":
        _table(q, where, faults)
    else:
        _range(q, where, faults)
    _ladder(q, where, faults)


def _table(q: Quantity, where: tuple[str, str], faults: Faults) -> None:
    faults.unknown((q.expected.by, q.expected.choose_by), q.conditions, where)
    faults.unless(bool(q.expected.points), where, "an empty table")
    for name, points in q.expected.points.items():
        values = [y for _, y in points]
        faults.unless(values == sorted(values), where, f"table {name!r} does not rise")


def _range(q: Quantity, where: tuple[str, str], faults: Faults) -> None:
    faults.unknown(q.expected.uses, q.conditions, where)
    low = tried(q.expected.low, q.expected.uses, where, faults)
    high = tried(q.expected.high, q.expected.uses, where, faults)
    if low is None or high is None:
        return
    inside = q.hard_low <= low < high <= q.hard_high
    faults.unless(inside, where, f"expected {low:g}..{high:g} is not inside {q.hard_low:g}..{q.hard_high:g}")


def tried(
    bound: float | str | None, allowed: tuple[str, ...], where: tuple[str, str], faults: Faults
) -> float | None:
    """`bound` worked out with ordinary conditions; None, with a fault noted, when it does not."""
    if bound is None:
        faults.add(*where, "a bound is missing")
        return None
    try:
        faults.unknown(sorted(names(bound)), {*allowed, "low", "high"}, where)
        return value(bound, ORDINARY)
    except BadFormula as error:
        faults.add(*where, error.message)
        return None


def _ladder(q: Quantity, where: tuple[str, str], faults: Faults) -> None:
    faults.unless(len(q.verdicts) >= 2, where, "fewer than two verdicts")
    faults.unless(len(q.edges) == len(q.ladder) - 1, where, "wants one edge between two words of the ladder")
    faults.unknown(q.ladder, q.verdicts, where)
    faults.unknown(q.good, q.ladder, where)
    faults.unless(bool(q.good), where, "no verdict is good")
    _climbs(q, where, faults)


def _climbs(q: Quantity, where: tuple[str, str], faults: Faults) -> None:
    given = ORDINARY | _ordinary_range(q)
    try:
        heights = [value(edge, given) for edge in q.edges]
    except BadFormula as error:
        faults.add(*where, error.message)
        return
    rising = all(a <= b for a, b in pairwise(heights))
    faults.unless(rising, where, f"edges {heights} do not rise")


def _ordinary_range(q: Quantity) -> dict[str, float | str]:
    if q.expected.kind == "table":
        middle = [points[len(points) // 2][1] for points in q.expected.points.values()]
        return {"low": min(middle) - q.expected.tolerance, "high": max(middle) + q.expected.tolerance}
    found = {"low": q.expected.low, "high": q.expected.high}
    return {name: _settled(bound) for name, bound in found.items() if bound is not None}


def _settled(bound: float | str) -> float:
    try:
        return value(bound, ORDINARY)
    except BadFormula:
        return float("nan")
