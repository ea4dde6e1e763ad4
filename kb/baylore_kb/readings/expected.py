"""The expected range of a quantity under given conditions."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from baylore_kb.errors import BadFormula, OutOfRange, UnknownRefrigerant
from baylore_kb.expressions import names, value
from baylore_kb.physics import static_pressure_kpa
from baylore_kb.physics.ranges import straight
from baylore_kb.readings.given import Given
from baylore_kb.trade.model import Quantity


@dataclass(frozen=True, slots=True)
class Range:
    """Low and high in the quantity's unit and the edges of its ladder; `uses` names what they rest on."""

    low: float
    high: float
    edges: tuple[float, ...]
    uses: frozenset[str]


@dataclass(frozen=True, slots=True)
class Unknown:
    """No range: `needs` are the conditions to give, `why` says it in words."""

    needs: tuple[str, ...]
    why: str


def expected(quantity: Quantity, known: Given) -> Range | Unknown:
    """What the quantity should read under the `known` conditions, or what is missing to say so."""
    try:
        return _range(quantity, known)
    except OutOfRange as error:
        return Unknown(_named(error.field, quantity), f"{error.message}; {error.remedy}")
    except UnknownRefrigerant as error:
        return Unknown(("refrigerant",), f"{error.message}; {error.remedy}")


def _named(what: str, quantity: Quantity) -> tuple[str, ...]:
    """The quantity's own condition that the physics refused by its plain name."""
    own = [name for name in quantity.conditions if name.startswith(what)]
    return tuple(own[:1]) or tuple(name for name in (quantity.expected.by,) if name)


def _range(quantity: Quantity, known: Given) -> Range | Unknown:
    uses = _uses(quantity)
    if quantity.expected.kind == "table":
        return _from_table(quantity, known, uses)
    bounds = (quantity.expected.low or 0.0, quantity.expected.high or 0.0)
    return _worked_out(quantity, bounds, known, uses)


def _uses(quantity: Quantity) -> frozenset[str]:
    what = quantity.expected
    if what.kind == "table":
        return frozenset(name for name in (what.by, what.choose_by) if name)
    return names(what.low) | names(what.high)


def _worked_out(
    quantity: Quantity, bounds: Iterable[float | str], known: Given, uses: frozenset[str]
) -> Range | Unknown:
    try:
        low, high = (value(bound, known.values) for bound in bounds)
        scope = {**known.values, "low": low, "high": high}
        edges = tuple(value(edge, scope) for edge in quantity.edges)
    except BadFormula:
        # A formula may leave a branch unused, so only a failure tells what is really missing.
        missing = known.missing(uses | _edge_names(quantity))
        if not missing:
            raise
        return Unknown(missing, f"cannot be judged without {', '.join(missing)}")
    return Range(low, high, edges, uses | _edge_names(quantity))


def _edge_names(quantity: Quantity) -> frozenset[str]:
    return frozenset[str]().union(*(names(edge) for edge in quantity.edges)) - {"low", "high"}


def _from_table(quantity: Quantity, known: Given, uses: frozenset[str]) -> Range | Unknown:
    missing = known.missing(uses)
    if missing:
        return Unknown(missing, f"cannot be judged without {', '.join(missing)}")
    middle = _middle(quantity, known)
    spread = quantity.expected.tolerance
    extra = frozenset({"altitude_m"} & known.values.keys())
    return _worked_out(quantity, (middle - spread, middle + spread), known, uses | extra)


def _middle(quantity: Quantity, known: Given) -> float:
    what = quantity.expected
    at, line = known.values[what.by or ""], str(known.values[what.choose_by or ""])
    if what.choose_by == "refrigerant":
        # The table is saturation pressure at sea level; the same physics serves any height.
        return static_pressure_kpa(line, float(at), float(known.values.get("altitude_m", 0.0)))
    points = {name.casefold(): line_points for name, line_points in what.points.items()}
    return straight(points[line], float(at))
