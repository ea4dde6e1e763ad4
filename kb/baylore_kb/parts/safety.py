"""Parts whose failure can hurt somebody: there the cheapest way is not allowed to decide."""

from __future__ import annotations

from baylore_kb.trade.model import Cause, Trade

SAFETY_SYSTEMS = frozenset(("brakes", "abs_stab", "steering", "tyres", "restraint", "hv"))
# Holds fuel, though no listed cause says that it leaks.
_HOLDS_FUEL = frozenset(("fuel.tank", "fuel.line"))


def is_safety_part(component: str, trade: Trade) -> bool:
    """Whether `component` is of a safety system, or can leak fuel.

    Own and unlisted components are told by the system before the point of their name.
    """
    listed = trade.components.get(component)
    system = listed.system if listed else component.partition(".")[0]
    return system in SAFETY_SYSTEMS or component in _HOLDS_FUEL or _leaks_fuel(component, trade)


def _leaks_fuel(component: str, trade: Trade) -> bool:
    of_part = (cause for cause in trade.causes.values() if cause.component == component)
    return any(_fuel_leak(cause) for cause in of_part)


def is_safety_cause(cause: Cause) -> bool:
    """Whether a cause lies in a safety system, or leaks fuel: proved before parts, whatever it costs."""
    return cause.system in SAFETY_SYSTEMS or _fuel_leak(cause)


def _fuel_leak(cause: Cause) -> bool:
    return cause.system == "fuel" and cause.mode == "leaking"
