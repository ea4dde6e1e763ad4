"""After a dead driver: what it drives is measured before another is fitted, or that dies too."""

from __future__ import annotations

from collections.abc import Collection

from baylore_kb.trade.model import Cause, Test, Trade

_DRIVERS = ("module", "relay", "resistor", "driver", "transistor")
_DEAD = frozenset(("open", "broken", "short", "stuck"))
_LOADS = ("motor", "pump", "clutch", "coil", "heater", "lamp", "fan", "actuator")


def load_check(cause: str, trade: Trade, *, done: Collection[str]) -> Test | None:
    """The test that clamps the current of what the cause's driver feeds, not among those `done`.

    A driver is a module, relay or resistor that died; what it feeds stands in its system under the same
    first word (fan module, fan motor). None where the lists do not tell, or for any other cause.
    """
    known = trade.causes.get(cause)
    if known is None or known.mode not in _DEAD or not _drives(known):
        return None
    fitting = [test for test in trade.tests.values() if _clamps(test, trade) and _feeds(known, test, trade)]
    foremost = sorted(fitting, key=lambda test: (not _ampere(test.quantity, trade), _breadth(test)))
    return next((test for test in foremost if test.id not in done), None)


def _drives(cause: Cause) -> bool:
    return cause.component.rsplit("_", maxsplit=1)[-1] in _DRIVERS


def _clamps(test: Test, trade: Trade) -> bool:
    return any(_ampere(quantity, trade) for quantity in (test.quantity, *test.also_read))


def _breadth(test: Test) -> int:
    """How many causes the test names; one that is about the load alone tells most of it."""
    return sum(len(row.causes) for row in test.likelihood)


def _ampere(quantity: str | None, trade: Trade) -> bool:
    known = trade.quantities.get(quantity or "")
    return known is not None and known.unit == "ampere"


def _feeds(driver: Cause, test: Test, trade: Trade) -> bool:
    """Whether the test names a load of the driver's system under the driver's first word."""
    stem = driver.component.rsplit("_", maxsplit=1)[0]
    named = {trade.causes[cause].component for row in test.likelihood for cause in row.causes}
    loads = {component for component in named if component.rsplit("_", maxsplit=1)[-1].endswith(_LOADS)}
    loads |= {component for component in named if component == stem}
    return test.system == driver.system and any(
        component != driver.component and component.startswith(stem) for component in loads
    )
