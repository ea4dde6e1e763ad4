"""Set-up between tests: what it costs to get the car from where it stands to where a test needs it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from baylore_kb.plan.problem import Floats
from baylore_kb.trade.model import Test

# Minutes of raising and of lowering a car on a lift; common practice, no published source.
RAISE_MIN, LOWER_MIN = 4.0, 2.0


def setup_minutes(after: Test | None, test: Test) -> float:
    """Minutes of set-up still to pay for `test` after another one; None is a car just driven in.

    Nothing for the same state with tools already at hand; no second raising while the car is up.
    """
    if after is None:
        return max(test.setup_min, RAISE_MIN) if test.state.raised else test.setup_min
    if after.state == test.state and set(test.tools) <= set(after.tools):
        return 0.0
    if after.state.raised and test.state.raised and after.state.wheels == test.state.wheels:
        return max(0.0, test.setup_min - RAISE_MIN)
    if test.state.raised and not after.state.raised:
        return max(test.setup_min, RAISE_MIN)
    lower = LOWER_MIN if after.state.raised and not test.state.raised else 0.0
    return test.setup_min + lower


def setup_table(now: Test | None, tests: Sequence[Test]) -> Floats:
    """(1 + T, T) set-up minutes of each test from where the car is now (row 0) and after each test."""
    return np.array([[setup_minutes(after, test) for test in tests] for after in (now, *tests)])


def setup_words(test: Test) -> str:
    """The state the car must be in, in words: "key on", "engine running, on the lift"."""
    key = test.state.key if test.state.key.startswith("engine") else f"key {test.state.key}"
    words = ["cranking" if test.state.key == "cranking" else key]
    if test.state.raised:
        words.append("on the lift")
    if test.state.battery == "disconnected":
        words.append("battery disconnected")
    if test.state.wheels == "off":
        words.append("wheels off")
    return ", ".join(words)
