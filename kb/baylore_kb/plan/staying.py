"""A test first that spares the car a change of state: up while it is up, live data before battery off."""

from __future__ import annotations

from baylore_kb.plan.places import disconnects, needs_memory
from baylore_kb.plan.weighed import Weighed

# A test of live data that saves this share of what a battery-off test saves comes before it.
FAIR_SHARE_SAVED = 0.33
# A test on the lift comes before going down for a better one while its plan is dearer by no more than this.
WORTH_STAYING, SOME_USE_MIN = 0.04, 1.0


def without_moving(weighed: Weighed, chosen: int) -> int:
    """The chosen test, or one worth doing first so that the car need not change its state and back."""
    return _before_battery_off(weighed, _while_up(weighed, chosen))


def _while_up(weighed: Weighed, chosen: int) -> int:
    now, tests = weighed.layout.now, weighed.layout.tests
    if now is None or not now.state.raised or tests[chosen].state.raised:
        return chosen
    costs = dict(zip(weighed.worth.open.tolist(), weighed.worth.choice.by_test.tolist(), strict=True))
    most = weighed.worth.choice.best * (1.0 + WORTH_STAYING)
    up = [
        place
        for place, cost in costs.items()
        if tests[place].state.raised and cost <= most and weighed.saves(place) >= SOME_USE_MIN
    ]
    return min(up, key=lambda place: costs[place], default=chosen)


def _before_battery_off(weighed: Weighed, chosen: int) -> int:
    """A worthwhile test of what the car remembers, where the chosen one would make it forget."""
    tests = weighed.layout.tests
    if not disconnects(tests[chosen]):
        return chosen
    least = max(FAIR_SHARE_SAVED * weighed.saves(chosen), SOME_USE_MIN)
    first = [k for k in weighed.open if needs_memory(tests[k]) and weighed.saves(k) >= least]
    return max(first, key=weighed.saves, default=chosen)
